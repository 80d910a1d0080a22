"""From the content folder as plain data to the bound and cross-checked collection, or to what is wrong with it."""

import datetime as dt
from dataclasses import dataclass, field, replace

from sitegen.content.animals import Animal, AnimalBinder
from sitegen.content.bind_projects import ProjectBinder, bind_updates
from sitegen.content.check_branches import check_branches
from sitegen.content.check_dates import check_ahead, check_dates
from sitegen.content.check_events import check_events, check_offered
from sitegen.content.check_pedigree import check_pedigree, check_projects
from sitegen.content.check_unusual import check_counts, check_unusual
from sitegen.content.collection import Collection
from sitegen.content.declaration import Written
from sitegen.content.folder import Content
from sitegen.content.learned import learned
from sitegen.content.litters import Litter, Spots, bind_litter, merged, young_of
from sitegen.content.photo_records import Photos
from sitegen.content.projects import Project
from sitegen.content.references import KnownRecords
from sitegen.content.report import Report
from sitegen.content.seasons import check_seasons
from sitegen.content.site import FORMAT, FreePage, Site, bind_page, bind_site
from sitegen.content.species import bind_species
from sitegen.content.texts import free_texts, reviews
from sitegen.content.waiting import bind_waiting
from sitegen.content.wishes import Wishes, WishesBinder
from sitegen.content.written_records import Forms, check_id, forms_of_content
from sitegen.content.yaml_tree import is_blank
from sitegen.findings import Finding, Kind, Place, has_errors, in_order


def bind_content(content: Content, today: dt.date | None = None) -> tuple[Collection | None, tuple[Finding, ...]]:
    """The collection, and everything that is wrong or unusual in any of its files.

    There is no collection when at least one finding is an error: every reference in a collection is sound. Without the
    day it is (``today``) nothing is told of days that have not come.
    """
    report = Report()
    binding = _Binding(content, report, forms_of_content(content, report), today)
    collection = binding.collection()
    findings = in_order(report.findings)
    return (None if has_errors(findings) else collection), findings


@dataclass(slots=True)
class _Binding:
    """One run over all records; each step needs only what the steps before it have bound."""

    content: Content
    report: Report
    forms: Forms
    today: dt.date | None
    site: Site = field(init=False)
    known: KnownRecords = field(init=False)
    animals: dict[str, Animal] = field(default_factory=dict)
    litters: dict[str, Litter] = field(default_factory=dict)

    def collection(self) -> Collection:
        forms = self.forms
        self.site = bind_site(forms.site, self.report)
        species = {
            species_id: bind_species(species_id, form, self.report) if form else None
            for species_id, form in forms.species.items()
        }
        self.known = KnownRecords(species, forms.animals, forms.litters)
        origins = self._origins()
        for litter_id, form in forms.litters.items():
            if form is not None:
                self._litter(litter_id, form)
        self._check_species_known()
        self._own_records(origins)
        projects = self._projects()
        bound = {species_id: found.species for species_id, found in species.items() if found}
        spots = Spots(forms.animals, forms.litters)
        check_pedigree(self.animals, self.litters, spots, self.report)
        check_dates(self.animals, self.litters, bound, spots, self.report)
        check_events(self.animals, self.litters, bound, spots, self.report)
        check_unusual(self.animals, spots, self.report)
        if self.today is not None:
            dated = [(own, written) for key, own in projects.items() if (written := forms.projects[key])]
            check_ahead(self.animals, self.litters, dated, spots, self.today, self.report)
            check_offered(self.animals, self.today, self.report)
        if self.site.format_number < FORMAT and not (forms.site is None and self._has_site):
            check_seasons(projects, self.litters, bound, self.report)
        check_projects(projects, self.animals, self.litters, spots, self.report)
        check_branches(projects, self.report)
        check_counts(self.litters, self.animals, forms.litters, species, self.report)
        self._say_public()
        self._say_on_site()
        return Collection(
            site=self.site,
            species={key: learned(each, self.litters.values()) for key, each in bound.items()},
            animals=dict(sorted(self.animals.items())),
            litters=self.litters,
            projects=projects,
            pages=self._pages(),
            texts=free_texts(forms, self.known.promoted),
            reviews=reviews(forms, self.report),
            wishes=self._wishes(projects),
            waiting=bind_waiting(forms.waiting, self.known, self._currency, self.report) if forms.waiting else (),
        )

    def _say_public(self) -> None:
        """What is shown of each record: as it says itself, else as its litter's does, else as the site's."""
        usual = self.site.public
        for key, litter in self.litters.items():
            self.litters[key] = replace(litter, public=usual if litter.public is None else litter.public)
        for name, animal in self.animals.items():
            if animal.public is None:
                origin = self.litters.get(animal.litter)
                self.animals[name] = replace(animal, public=origin.public if origin else usual)

    def _say_on_site(self) -> None:
        """Whether each animal is shown: as it says itself, else as its litter's record does."""
        for name, animal in self.animals.items():
            origin = self.litters.get(animal.litter)
            of_shown = origin is None or origin.on_site
            if animal.is_young and animal.on_site and not of_shown:
                self.report.error(
                    Kind.OFF_SITE,
                    animal.place,
                    f"{name} is to be shown, and its litter is off the site: its page would stand under the litter's "
                    "name",
                    expected=f"a record of its own: animals/NAME/animal.yaml with from_litter: {name}",
                    remedy="write one with on_site: true, or delete the line",
                )
            self.animals[name] = replace(animal, on_site=of_shown if animal.on_site is None else animal.on_site)

    def _binder(self) -> AnimalBinder:
        return AnimalBinder(self.known, self._currency, self.report)

    @property
    def _currency(self) -> str | None:
        """That of prices that name none: the site's, empty where it names none, None where that could not be read."""
        form = self.forms.site
        unread = self._has_site if form is None else not is_blank(form.node("currency"))
        return self.site.currency or (None if unread else "")

    def _wishes(self, projects: dict[str, Project]) -> Wishes | None:
        form, limit = self.forms.wishes, self.site.relatedness_limit
        binder = WishesBinder(self.known, projects, tuple(self.forms.projects), self._currency, limit, self.report)
        return binder.wishes(form) if form else None

    @property
    def _has_site(self) -> bool:
        """There is a site.yaml, though perhaps one that cannot be read."""
        return "site.yaml" in (*self.content.texts, *self.content.unreadable)

    def _photos(self, folder: str) -> Photos:
        return Photos(
            self.content.photos.get(folder, ()), bool(self.site.drawings), self.content.videos.get(folder, ())
        )

    def _origins(self) -> dict[str, str]:
        """Animal id to the ``LITTER/YOUNG`` it came from; two animals cannot be the same young."""
        origins: dict[str, str] = {}
        for animal_id, form in self.forms.animals.items():
            if form is None or form.from_litter is None:
                continue
            young = self.known.find_young(form.from_litter, self.report)
            if young is None:
                continue
            key = "/".join(young)
            if key in self.known.promoted:
                self.report.error(
                    Kind.PARENTS_CLASH,
                    form.from_litter,
                    f"{animal_id} and {self.known.promoted[key]} are both said to be young {young[1]} of {young[0]}",
                    expected="one animal for each young",
                    remedy="correct from_litter of one of the two",
                )
                continue
            self.known.promoted[key] = animal_id
            origins[animal_id] = key
        return origins

    def _litter(self, litter_id: str, form: Written) -> None:
        photos = self._photos(self.forms.folders["litters", litter_id])
        litter = bind_litter(litter_id, form, self.known, photos, self.report)
        if litter is not None:
            young = {each.id: each for each in young_of(form, litter, photos, self._binder())}
            self.animals |= young
            ids = tuple(self.known.promoted.get(each, each) for each in young)
            self.litters[litter_id] = replace(litter, young=ids)

    def _check_species_known(self) -> None:
        """A litter whose species nothing says; told when no other fault explains it."""
        lost = [(i, form) for i, form in self.forms.litters.items() if form is not None and i not in self.litters]
        for litter_id, form in [] if has_errors(self.report.findings) else lost:
            self.report.missing(
                form.start,
                f"the species of {litter_id} cannot be known from its parents",
                "a line species:, or a parent that has a record of its own",
                "add species",
            )

    def _own_records(self, origins: dict[str, str]) -> None:
        """Animals with a folder of their own; a promoted young takes the place of its entry in the litter."""
        spots = Spots(self.forms.animals, self.forms.litters)
        for animal_id, form in self.forms.animals.items():
            if form is None:
                continue
            photos, origin = self._photos(self.forms.folders["animals", animal_id]), origins.get(animal_id, "")
            animal = self._binder().animal(animal_id, form, photos, origin)
            young = self.animals.pop(origin, None)
            if animal is not None and young is not None:
                litter = self.litters[young.litter]
                animal = merged(animal, young, litter, spots, self.report)
            if animal is not None:
                self.animals[animal_id] = animal

    def _projects(self) -> dict[str, Project]:
        found = {}
        for project_id, form in self.forms.projects.items():
            folder = self.forms.folders["projects", project_id]
            updates = bind_updates(
                self.forms.updates.get(project_id, {}),
                self.content.photos.get(f"{folder}/updates", ()),
                bool(self.site.drawings),
                self.report,
            )
            if form is None:
                continue
            species = self.known.find_species(form.species, self.report)
            bound = self.known.species.get(species) if species else None
            if species is not None and bound is not None:
                binder = ProjectBinder(self.known, bound.names, self.report, self.site.relatedness_limit)
                found[project_id] = binder.project(project_id, species, form, self._photos(folder), updates)
        return found

    def _pages(self) -> dict[str, FreePage]:
        pages: dict[str, FreePage] = {}
        for stem, (path, text) in self.forms.pages.items():
            page = bind_page(stem, text, path)
            check_id(page.id, path, self.report)
            if page.id in pages:
                self.report.error(
                    Kind.ID_TWICE,
                    Place(path),
                    f'two pages are named "{page.id}", apart from the number in front',
                    expected="a name of its own for each page",
                    remedy="rename one of the two",
                    others=(pages[page.id].place,),
                )
            pages[page.id] = page
        return dict(sorted(pages.items()))
