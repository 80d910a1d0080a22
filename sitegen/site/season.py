"""The page of a season: what is waited for, what came, what failed, and how it compares with what was foretold."""

from collections.abc import Iterator
from dataclasses import dataclass

from sitegen.content.learned import ended
from sitegen.content.litters import Litter
from sitegen.plans.assumed import taken_for_granted
from sitegen.site.addresses import LITTERS
from sitegen.site.entries import litter_date
from sitegen.site.material import Folio
from sitegen.site.parts import Line, Span
from sitegen.site.views import failed_words
from sitegen.words.assumed import sentences_by_figure
from sitegen.words.speech import Sentence, _, capital, said
from sitegen.words.year import came_sentence, compared_sentences, dam_sentence, hatched_sentence, window_sentences
from sitegen.year.due import young_due
from sitegen.year.seasons import Season, season_of


@dataclass(frozen=True, slots=True)
class SeasonPart:
    """Sentences under a heading."""

    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class SeasonSpecies:
    """A species in a season."""

    name: str
    parts: tuple[SeasonPart, ...]


@dataclass(frozen=True, slots=True)
class SeasonPage:
    """One season; ``onward`` leads back to all litters."""

    title: str
    intro: str
    onward: Line
    species: tuple[SeasonSpecies, ...]


def season_page(year: int, folio: Folio) -> SeasonPage:
    """All that is told of one season."""
    return SeasonPage(
        title=_("Season {year}").format(year=year),
        intro=_("What was paired, what came of it, and what was to be expected before."),
        onward=(Span(_("All litters and clutches"), folio.linker.to(LITTERS)),),
        species=tuple(
            SeasonSpecies(capital(each.species.name), tuple(part for part in _parts(each, folio) if part.lines))
            for each in season_of(folio.collection, year)
        ),
    )


def _parts(season: Season, folio: Folio) -> Iterator[SeasonPart]:
    over = ended(season.litters)
    awaited = [_awaited(each, folio) for each in season.litters if each not in over]
    came = [_came(each, season, folio) for each in over if not each.failed]
    failed = [_named(each, failed_words(each, folio), folio) for each in over if each.failed]
    yield SeasonPart(_("Waited for"), folio.lines(awaited))
    yield SeasonPart(_("Gave young"), folio.lines(came))
    yield SeasonPart(_("Gave no young"), folio.lines(failed))
    yield SeasonPart(_("Beside what was to be expected"), folio.lines(compared_sentences(season)))
    granted = sentences_by_figure(
        taken_for_granted(season.species, folio.collection), season.species, folio.collection.site.language
    )
    learned = [granted[key] for key in season.species.learned]
    hers = [dam_sentence(folio.voice.animal(dam), each) for dam, each in season.by_dam.items()]
    yield SeasonPart(_("What our records teach so far"), folio.lines([*learned, hatched_sentence(season), *hers]))


def _named(litter: Litter, told: Sentence, folio: Folio) -> Sentence:
    return said("{litter}: {told}", litter=folio.voice.litter(litter.id), told=told)


def _awaited(litter: Litter, folio: Folio) -> Sentence:
    window, species = young_due(litter, folio.collection), folio.collection.species[litter.species]
    language = folio.collection.site.language
    told = window_sentences(window, species, language) if window else said("{told}.", told=litter_date(litter, folio))
    return _named(litter, told, folio)


def _came(litter: Litter, season: Season, folio: Folio) -> Sentence:
    window, language = season.foretold.get(litter.id), folio.collection.site.language
    return came_sentence(folio.voice.litter(litter.id), litter, window, season.species, language)
