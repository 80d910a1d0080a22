"""Short videos beside photographs, written anew so that nothing but moving pictures and sound is left of them.

A library reads the container and writes a new one around the packets of one picture and one sound track: place, day,
device, title, other tracks and whatever else stood in any box stay behind. Messages inside the coded pictures, where
some cameras repeat place and day, are cut out of them.
"""

import hashlib
import importlib
import io
import json
import re
import tempfile
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from sitegen.below import LeadsAway, TooLarge, read_below
from sitegen.findings import Finding, Kind, SitegenError
from sitegen.photos.opening import Fault
from sitegen.photos.store import Kept, Store, why_not_written
from sitegen.workers import Crashed, Progress, in_workers

MAX_BYTES = 30_000_000
"""Of a video; a minute and more at 720 lines. Common practice, no source."""

VIDEOS = "videos"
"""What the store holds them as, and the folder of the site in which they stand."""

RECIPE = 1
"""Raised by hand whenever ``rewritten`` would make other bytes of the same video."""

# Codecs that browsers in use play, and in each the units that hold messages and no picture.
# Source: ITU-T H.264, table 7-1 (6: SEI); AV1 Bitstream Specification, 6.2.2 (5: metadata) (both from memory).
_PICTURES = {"h264": 6, "av1": 5}
_SOUNDS = frozenset({"aac", "mp3", "opus"})


def _fault(message: str, remedy: str, expected: str = "") -> Fault:
    return Fault(message, remedy, expected, Kind.VIDEO_UNREADABLE)


_FORM = "H.264 pictures and AAC sound in a file .mp4, which every browser plays"
DAMAGED = _fault("this video is damaged, ends too early, or is none", "copy it again from the camera, or remove it")
CRASHED = _fault("this video makes the program that reads it fail", "save it anew in a video program, or remove it")
LINKED = _fault("this is a link to another place; links are not followed", "delete the link and copy the video here")
OTHER_FORM = _fault("many browsers cannot play this video", "save it in that form in a video program", _FORM)
NO_LIBRARY = _fault("videos need one more library, which is not installed", 'type: pip install "sitegen[video]"')
NO_CAPTIONS = _fault(
    "these captions cannot be read, or are not in the form WebVTT", "save them as WebVTT", 'a first line "WEBVTT"'
)


@dataclass(frozen=True, slots=True)
class Video:
    """A video made ready.

    Attributes:
        address: Where it stands, from the site's root; changes with its content.
        seconds: Its length, at least 1.
        captions: Where its captions stand, from the site's root; empty for none.
    """

    address: str
    seconds: int
    n_bytes: int
    sound: bool
    captions: str = ""


@dataclass(frozen=True, slots=True)
class Videos:
    """What stands ready: path in the content folder to the video, address to the file, and what cannot be shown."""

    shown: Mapping[str, Video]
    files: Mapping[str, Kept]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class _Job:
    root: Path
    file: str
    store: Store


def ready_videos(
    root: Path,
    files: Sequence[str],
    captions: Mapping[str, str],
    store: Store,
    workers: int = 0,
    progress: Progress | None = None,
) -> Videos:
    """Every video, rewritten if the store does not hold it; captions belong to the video of the same name.

    Raises:
        SitegenError: The store cannot be written.
    """
    by_stem = {path.rpartition(".")[0]: path for path in captions}
    jobs = [_Job(root, file, store) for file in files]
    shown, kept, findings = {}, dict[str, Kept](), list[Finding]()
    for file, result in zip(files, in_workers(_ready, jobs, workers, progress), strict=True):
        if isinstance(result, str):
            raise SitegenError(f"the videos cannot be kept in {store.folder}: {result}")
        if not isinstance(result, Video):
            findings.append((CRASHED if isinstance(result, Crashed) else result).at(file))
            continue
        told = by_stem.get(file.rpartition(".")[0], "")
        written = _captions(captions[told], store) if told else None
        if isinstance(written, Fault):
            findings.append(written.at(told))
        elif written is not None:
            result = replace(result, captions=f"{VIDEOS}/{written.path.name}")
        shown[file] = result
        for address in (result.address, result.captions):
            if found := store.find(VIDEOS, address.rpartition("/")[2]) if address else None:
                kept[address] = found
    return Videos(shown, kept, tuple(findings))


def _ready(job: _Job) -> Video | Fault | str:
    """One video in the store; gives what is wrong with it, or why it cannot be stored."""
    content = _read(job.root, job.file)
    if isinstance(content, Fault):
        return content
    key = hashlib.sha256(f"{RECIPE}|".encode() + content).hexdigest()[:24]
    facts, file = job.store.find(VIDEOS, f"{key}.json"), job.store.find(VIDEOS, f"{key}.mp4")
    with suppress(OSError):
        if facts and file:
            return Video(**json.loads(facts.read()))
    made = rewritten(content)
    if isinstance(made, Fault):
        return made
    written, seconds, sound = made
    video = Video(f"{VIDEOS}/{key}.mp4", seconds, len(written), sound)
    try:
        job.store.write(VIDEOS, f"{key}.mp4", written)
        job.store.write(VIDEOS, f"{key}.json", json.dumps(asdict(video)).encode("ascii"))
    except OSError as failure:
        return why_not_written(failure)
    return video


def _read(root: Path, file: str) -> bytes | Fault:
    try:
        return read_below(root, file, MAX_BYTES) or DAMAGED
    except LeadsAway:
        return LINKED
    except TooLarge as found:
        size, limit = found.size / 1_000_000, MAX_BYTES // 1_000_000
        message = f"this video has {size:.0f} MB, more than a reader on a phone should have to fetch"
        return _fault(message, "shorten it, or save it smaller in a video program", f"at most {limit} MB")
    except OSError:
        return _fault("this video cannot be opened", "look at the permissions of the file")


def rewritten(content: bytes) -> tuple[bytes, int, bool] | Fault:
    """A video's pictures and sound in a new file, its length in seconds, and whether it has sound.

    What is trimmed off by the file's own marks stays off. The same bytes give the same bytes.
    """
    try:
        av = importlib.import_module("av")
        filters = importlib.import_module("av.bitstream").BitStreamFilterContext
    except ModuleNotFoundError:
        return NO_LIBRARY
    try:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "video.mp4"
            with av.open(io.BytesIO(content), format="mov") as source:
                told = _rewrite(av, filters, source, path)
            return told if isinstance(told, Fault) else (path.read_bytes(), *told)
    except Exception:  # almost any kind, for damaged bytes
        return DAMAGED


def _rewrite(av: Any, filters: Any, source: Any, path: Path) -> tuple[int, bool] | Fault:
    pictures = [track for track in source.streams.video if _codec(track) in _PICTURES][:1]
    sounds = [track for track in source.streams.audio if _codec(track) in _SOUNDS][:1]
    if not pictures or len(source.streams.audio) > 0 == len(sounds):
        return OTHER_FORM if source.streams.video else DAMAGED
    options, ends = {"movflags": "+faststart", "fflags": "+bitexact"}, 0.0
    with av.open(str(path), "w", format="mp4", options=options) as made:
        into = {track.index: made.add_stream_from_template(track) for track in (*pictures, *sounds)}
        track = pictures[0]
        cut = filters(f"filter_units=remove_types={_PICTURES[_codec(track)]}", track, into[track.index])
        for packet in source.demux(*pictures, *sounds):
            pictured = packet.stream.index == track.index
            if pictured and packet.pts is not None:
                ends = max(ends, float((packet.pts + (packet.duration or 0)) * packet.time_base))
            for piece in cut.filter(packet) if pictured and packet.size else (packet,):
                if piece.dts is not None:
                    piece.stream = into[track.index if pictured else sounds[0].index]
                    made.mux(piece)
    lasts = float(track.duration * track.time_base) if track.duration else ends
    return (max(1, round(lasts)), bool(sounds)) if ends > 0.9 * lasts else DAMAGED


def _codec(track: Any) -> str:
    return str(track.codec_context.codec.canonical_name) if track.codec_context else ""


def _captions(text: str, store: Store) -> Kept | Fault:
    """Captions in the store; remarks, styles and names of cues, which nobody sees, are left out.

    Source: W3C, "WebVTT: The Web Video Text Tracks Format", section 4.1 (from memory).
    """
    first, *blocks = re.split(r"\n{2,}", text.strip())
    if not re.match(r"WEBVTT(\s|$)", first):
        return NO_CAPTIONS
    cues = [block[block.rfind("\n", 0, block.index("-->")) + 1 :] for block in blocks if "-->" in block]
    written = "\n\n".join(["WEBVTT", *(cue for cue in cues if not cue.startswith("NOTE"))]) + "\n"
    try:
        return store.write(VIDEOS, hashlib.sha256(written.encode()).hexdigest()[:24] + ".vtt", written.encode())
    except OSError as failure:
        raise SitegenError(f"the videos cannot be kept in {store.folder}: {why_not_written(failure)}") from failure
