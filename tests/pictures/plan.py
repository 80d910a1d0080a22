"""Which photographs there are: one line each, by record; the rest is read from the records themselves."""

from dataclasses import dataclass

SIZES = {
    "land": (1600, 1200),
    "port": (1200, 1600),
    "wide": (1600, 800),
    "small": (1280, 960),
    "tall": (960, 1280),
    "huge": (4000, 3000),
}


@dataclass(frozen=True)
class Shot:
    """One photograph: the record's folder, its file, pose (or kind of scene), ground and size.

    ``young`` is its number in a litter; ``date`` is the day it was taken; ``written`` puts the date into the
    picture's own data, for names without one. ``sitters`` are those in a project's picture.
    """

    folder: str
    file: str
    pose: str
    ground: str
    size: tuple[int, int]
    young: str
    date: str
    written: bool
    sitters: tuple[str, ...] = ()


ANIMALS = """
juniper   2020-11-15.jpg            coil  leaves land
juniper   2022-05-01.jpg            esses paper  wide
juniper   2024-05-01.jpg            rest  slate  land
juniper   2025-06-12 shed.jpg       loops leaves land
basalt    2021-05-15.jpg            coil  linen  land
basalt    2023-03-04.jpg            hook  wood   land
basalt    IMG_0412.jpg              loops paper  port  2026-05-02
fennel    2022-01-08.jpg            rest  linen  land
fennel    2023-05-20.jpg            coil  slate  land
fennel    2026-02-28.jpg            loops wood   huge
flint     2022-06-11.jpg            hook  paper  land
flint     2024-03-02.jpg            rest  wood   land
flint     2026-06-06.jpg            coil  leaves land
tansy     2022-12-17.jpg            coil  paper  land
tansy     2024-06-08.jpg            loops linen  land
tansy     2026-03-07.jpg            rest  slate  port
slate     2023-06-10.jpg            rest  wood   land
slate     2026-03-07.jpg            coil  linen  land
chalk     2024-06-15.jpg            hook  wood   land
chalk     2026-03-07.jpg            coil  slate  land
sorrel    2023-07-01.jpg            coil  linen  land
sorrel    2025-06-21.jpg            esses paper  wide
sorrel    2026-09-05.jpg            loops leaves land
ochre     2023-07-01.jpg            rest  slate  land
ochre     2025-06-21.jpg            hook  linen  port
ochre     2026-09-05.jpg            coil  wood   land
obsidian  2023-08-12.jpg            coil  paper  small
obsidian  2025-03-01.jpg            loops wood   land
obsidian  2026-05-09.jpg            rest  leaves land
yarrow    2023-08-12.jpg            rest  linen  small
yarrow    2025-06-07.jpg            coil  slate  land
yarrow    2026-09-12.jpg            loops paper  land
cinnabar  2024-08-20.jpg            loops linen  small
cinnabar  2025-06-14.jpg            coil  wood   land
cinnabar  2026-10-03.jpg            hook  slate  land
selenite  2025-08-16.jpg            coil  slate  small
selenite  2026-03-14.jpg            rest  wood   land
selenite  2026-09-12.jpg            loops leaves land
agate     2021-09-04.jpg            rest  sand   land
agate     2023-09-09.jpg            coil  slate  land
agate     2026-09-19.jpg            loops sand   land
jasper    2022-09-03.jpg            coil  sand   land
jasper    2024-09-14.jpg            rest  linen  land
jasper    2026-09-19.jpg            hook  slate  land
cumin     2022-09-03.jpg            rest  wood   land
cumin     2024-09-14.jpg            loops sand   land
cumin     2026-06-20.jpg            coil  linen  port
pyrite    2023-09-09.jpg            coil  paper  land
pyrite    2026-06-20.jpg            rest  sand   land
"""

LITTERS = """
2023-juniper-basalt          2023-07-09 hatched.jpg        clutch   moss   land
2024-fennel-flint            2024-07-16 pipping.jpg        clutch   moss   land
2024-fennel-flint            06 2024-08-20.jpg             coil     linen  small
2024-fennel-flint            06 2026-10-03.jpg             rest     slate  small
2025-juniper-obsidian        2025-07-14 hatched.jpg        together linen  land
2025-juniper-obsidian        02 2025-08-16.jpg             rest     paper  small
2025-juniper-obsidian        02 2026-10-03.jpg             coil     wood   small
2025-juniper-obsidian        03 2025-08-16.jpg             coil     slate  small
2025-juniper-obsidian        03 2026-10-03.jpg             loops    paper  small
2025-juniper-obsidian        06 2025-08-16.jpg             loops    linen  small
2025-juniper-obsidian        06 2026-10-03.jpg             coil     leaves small
2025-juniper-obsidian        08 2025-08-16.jpg             rest     wood   small
2025-juniper-obsidian        08 2026-10-03.jpg             loops    slate  small
2026-fennel-cinnabar         2026-05-05 eggs.jpg           eggs     moss   land
2026-fennel-cinnabar         2026-07-06 first pips.jpg     clutch   moss   land
2026-fennel-cinnabar         01 2026-10-17.jpg             coil     slate  small
2026-fennel-cinnabar         02 2026-10-17.jpg             rest     linen  tall
2026-fennel-cinnabar         03 day one.jpg                coil     paper  small 2026-07-09
2026-fennel-cinnabar         03 2026-10-17.jpg             hook     wood   small
2026-fennel-cinnabar         04 day one.jpg                rest     paper  small 2026-07-09
2026-fennel-cinnabar         04 2026-10-17.jpg             coil     slate  small
2026-fennel-cinnabar         05 2026-10-17.jpg             loops    paper  small
2026-fennel-cinnabar         06 2026-10-17.jpg             rest     leaves small
2026-tansy-slate-or-chalk    2026-08-02 hatched.jpg        together paper  land
2026-tansy-slate-or-chalk    01 2026-10-24.jpg             coil     slate  small
2026-tansy-slate-or-chalk    02 2026-10-24.jpg             rest     wood   small
2026-tansy-slate-or-chalk    03 2026-10-24.jpg             loops    linen  small
2026-tansy-slate-or-chalk    04 2026-10-24.jpg             coil     paper  small
2026-tansy-slate-or-chalk    06 2026-10-24.jpg             hook     slate  tall
2025-agate-jasper            2025-09-27 the litter.jpg     together sand   land
2025-agate-jasper            02 2026-09-19.jpg             rest     sand   small
2025-agate-jasper            04 2026-09-19.jpg             coil     slate  small
2025-agate-jasper            05 2025-10-18.jpg             coil     linen  small
2025-agate-jasper            05 2026-09-19.jpg             rest     wood   small
2025-agate-jasper            06 2026-09-19.jpg             loops    sand   small
2025-agate-jasper            07 2026-09-19.jpg             coil     paper  small
"""

PROJECTS = """
snow-ladder   2025-07-18 parents and young.jpg  linen land juniper obsidian selenite
copper-lace   2026-10-17 the next pair.jpg      slate wide 2024-fennel-flint/06 2026-fennel-cinnabar/01
river-mist    2026-10-25 the first pair.jpg     wood  wide tansy obsidian
"""


def shots() -> list[Shot]:
    """Every photograph, in the order in which they are drawn."""
    return [
        *(_shot("animals", line) for line in ANIMALS.strip().splitlines()),
        *(_shot("litters", line) for line in LITTERS.strip().splitlines()),
        *(_group(line) for line in PROJECTS.strip().splitlines()),
    ]


def _named(line: str) -> tuple[str, str, list[str]]:
    """Record, file and what stands behind them."""
    words = line.split()
    end = next(i for i, word in enumerate(words) if word.endswith(".jpg")) + 1
    return words[0], " ".join(words[1:end]), words[end:]


def _shot(kind: str, line: str) -> Shot:
    record, file, (pose, ground, size, *date) = _named(line)
    first = file.removesuffix(".jpg").split()
    young = first[0] if kind == "litters" and len(first[0]) == 2 else ""
    day = date[0] if date else next(word for word in first if len(word) == 10)
    return Shot(f"{kind}/{record}", file, pose, ground, SIZES[size], young, day, bool(date))


def _group(line: str) -> Shot:
    record, file, (ground, size, *sitters) = _named(line)
    return Shot(f"projects/{record}", file, "group", ground, SIZES[size], "", file[:10], False, tuple(sitters))
