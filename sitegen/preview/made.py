"""The site as one state of the records makes it, each file made when it is asked for.

Whatever is handed out is byte for byte what ``sitegen build`` would put at that address.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from gettext import NullTranslations
from pathlib import Path

from sitegen.findings import Finding, SitegenError
from sitegen.pages.material import Material
from sitegen.pages.parts import Page
from sitegen.pages.share import every_share
from sitegen.pages.whole_site import Make, every_page
from sitegen.photos.compose import compose_shares
from sitegen.photos.encode import KIND, Photograph, encode_pictures, store_key
from sitegen.photos.sharing import SHARES_BEGIN, ShareCard
from sitegen.photos.variants import PictureSettings
from sitegen.rendering.machine import machine_files
from sitegen.rendering.share_style import share_style
from sitegen.rendering.themes import Theme, render_page, theme_files
from sitegen.store import Store
from sitegen.wording.speech import spoken


@dataclass(frozen=True, slots=True)
class Rendered:
    """A page with its bytes, good for as long as the page's model and the theme are the same."""

    page: Page
    theme: Theme
    html: bytes


@dataclass(slots=True)
class Made:
    """One state of the site.

    Attributes:
        material: All that the pages are made from.
        theme: The theme.
        photographs: Address of a picture to the photograph it is made from.
        settings, store: How pictures are made, and where they are kept.
        rendered: Address to the page as it was rendered last, also in states before.
        findings: What is doubtful in the records.
        catalogue: The words of the site's language; None for English.
        pages: Address to what makes the page.
    """

    material: Material
    theme: Theme
    photographs: Mapping[str, Photograph]
    settings: PictureSettings
    store: Store
    rendered: dict[str, Rendered]
    findings: tuple[Finding, ...] = ()
    catalogue: NullTranslations | None = None
    pages: Mapping[str, Make] = field(init=False)
    _others: dict[str, bytes] = field(init=False)
    _machine: Mapping[str, Callable[[], bytes]] = field(init=False)
    _models: dict[str, Page] = field(default_factory=dict)
    _shares: dict[str, ShareCard] | None = None

    def __post_init__(self) -> None:
        with spoken(self.catalogue):
            self.pages = every_page(self.material)
            self._others = dict(theme_files(self.theme))
            self._machine = machine_files(self.material, lambda: [self._model(page) for page in self.pages])

    def find(self, address: str) -> bytes | None:
        """The file at an address that is no picture; None when there is none.

        Raises:
            ThemeError: The page's template is at fault.
        """
        with spoken(self.catalogue):
            if address in self.pages:
                return self._html(address)
            if address not in self._others and address in self._machine:
                self._others[address] = self._machine[address]()
            if address.startswith(SHARES_BEGIN):
                return self._share(address)
            return self._others.get(address)

    def _cards(self) -> dict[str, ShareCard]:
        if self._shares is None:
            self._shares = every_share(self.material)
        return self._shares

    def _share(self, address: str) -> bytes | None:
        """A share picture; nobody asks for one on this machine but who looks at them."""
        card = self._cards().get(address)
        if card is None:
            return None
        path = self.picture(card.photo) if card.photo else None
        style, pictures = share_style(self.theme), {card.photo: path} if path else {}
        return compose_shares({address: card}, style, pictures, self.store, 1).files[address].read_bytes()

    def other_addresses(self) -> tuple[str, ...]:
        """The addresses of all files that are neither pages nor pictures of photographs."""
        with spoken(self.catalogue):
            return (*theme_files(self.theme), *self._machine, *self._cards())

    def _model(self, address: str) -> Page:
        if address not in self._models:
            self._models[address] = self.pages[address]()
        return self._models[address]

    def _html(self, address: str) -> bytes:
        page, known = self._model(address), self.rendered.get(address)
        if known is None or known.theme is not self.theme or known.page != page:
            known = self.rendered[address] = Rendered(page, self.theme, render_page(page, self.theme))
        return known.html

    def stored(self, address: str) -> Path | None:
        """The file of a picture that was made before; None when it was not."""
        return self.store.find(KIND, store_key(address))

    def picture(self, address: str) -> Path | None:
        """The file of a picture, encoded now when it never was; None when there is no such picture.

        Raises:
            SitegenError: The photograph cannot be decoded, or the picture cannot be kept.
        """
        photograph = self.photographs.get(address)
        if photograph is None:
            return None
        found = self.stored(address)
        if found is None:
            encoded = encode_pictures([photograph], self.settings, self.store, workers=1)
            if encoded.findings:
                raise SitegenError(str(encoded.findings[0].message))
            found = encoded.files.get(address)
        return found
