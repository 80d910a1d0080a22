"""The site as one state of the records makes it, each file made when it is asked for.

Whatever is handed out is byte for byte what ``sitegen build`` would put at that address.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from sitegen.build import Site
from sitegen.findings import Finding, SitegenError
from sitegen.photos.compose import compose_shares
from sitegen.photos.encode import Photograph, encode_pictures
from sitegen.photos.sharing import SHARES_BEGIN, ShareCard
from sitegen.photos.store import Kept, Store
from sitegen.render.machine import machine_files
from sitegen.render.share_style import share_style
from sitegen.render.themes import render_page, theme_files
from sitegen.site.parts import Page
from sitegen.site.share import every_share
from sitegen.words.speech import spoken


@dataclass(slots=True)
class Made:
    """One state of the site.

    Attributes:
        site: The site.
        findings: What is doubtful in the records.
        photographs: Address of a picture to the photograph it is made from.
    """

    site: Site
    findings: tuple[Finding, ...] = ()
    photographs: Mapping[str, Photograph] = field(init=False)
    _store: Store = field(default_factory=Store.of_user)
    _theme: Mapping[str, bytes] = field(init=False)
    _machine: Mapping[str, Callable[[], bytes]] = field(init=False)
    _models: dict[str, Page] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.photographs = {
            variant.file_name: each for each in self.site.photographs for variant in each.pictures.variants
        }
        self._theme = theme_files(self.site.theme)
        with spoken(self.site.catalogue):
            self._machine = machine_files(self.site.material, lambda: [self.page(each) for each in self.site.pages])

    def find(self, address: str) -> bytes | None:
        """The file at an address that is no picture of a photograph; None when there is none.

        Raises:
            ThemeError: The page's template is at fault.
        """
        with spoken(self.site.catalogue):
            if address in self.site.pages:
                return render_page(self.page(address), self.site.theme)
            if address in self._machine:
                return self._machine[address]()
            if address.startswith(SHARES_BEGIN):
                return self._share(address)
            return self._theme.get(address)

    def page(self, address: str) -> Page:
        """The model of a page."""
        if address not in self._models:
            self._models[address] = self.site.pages[address]()
        return self._models[address]

    def _cards(self) -> dict[str, ShareCard]:
        return every_share(self.site.material)

    def _share(self, address: str) -> bytes | None:
        """A share picture; nobody asks for one on this machine but who looks at them."""
        card = self._cards().get(address)
        if card is None:
            return None
        photo = self.picture(card.photo) if card.photo else None
        style, pictures = share_style(self.site.theme), {card.photo: photo} if photo else {}
        return compose_shares({address: card}, style, pictures, self._store, 1).files[address].read()

    def other_addresses(self) -> tuple[str, ...]:
        """The addresses of all files that are neither pages nor pictures of photographs."""
        with spoken(self.site.catalogue):
            return (*self._theme, *self._machine, *self._cards())

    def picture(self, address: str) -> Kept | None:
        """A picture, encoded now when it never was; None when there is no such picture.

        Raises:
            SitegenError: The photograph cannot be decoded, or the picture cannot be kept.
        """
        photograph = self.photographs.get(address)
        if photograph is None:
            return None
        encoded = encode_pictures([photograph], self.site.settings, self._store, workers=1)
        if encoded.findings:
            raise SitegenError(str(encoded.findings[0].message))
        return encoded.files.get(address)
