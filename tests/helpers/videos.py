"""A small video as a telephone might write it, with whatever is to be found in it again."""

import io
import struct
from collections.abc import Iterator

import av
import numpy as np

SIDE_PX = 64


def small_video(
    seconds: int = 2, secret: str = "", *, sound: bool = True, form: str = "mp4", codec: str = "libx264"
) -> bytes:
    """Grey frames, ten a second, and a silent tone.

    A ``secret`` stands in the title, comment, place (both of QuickTime's and Apple's own key) and name of the track,
    in a message inside the coded pictures, in a track of its own, in a box of XMP, and behind the end.
    """
    written = io.BytesIO()
    options = {"movflags": "use_metadata_tags"} if form == "mp4" else {}
    with av.open(written, "w", format=form, options=options) as made:
        names = (f"{secret}-handler", f"{secret}-track") if secret else ("",)
        tracks = [made.add_stream(codec, rate=10) for _ in names]
        tones = made.add_stream("aac", rate=44_100) if sound else None
        for track, name in zip(tracks, names, strict=True):
            track.width, track.height, track.pix_fmt = SIDE_PX, SIDE_PX, "yuv420p"
            track.metadata["handler_name"] = name
        if secret:
            place = f"+52.5200+013.4050/{secret}-place"
            made.metadata.update(
                {
                    "title": f"{secret}-title", "comment": f"{secret}-comment", "location": place,
                    "com.apple.quicktime.location.ISO6709": place, "creation_time": "2024-05-01T10:00:00Z",
                }
            )  # fmt: skip
        for track in tracks:
            for packet in greys(track, 10 * seconds):
                made.mux(with_message(packet, f"{secret}-message") if secret else packet)
        for number in range(44_100 * seconds // 1024 if tones else 0):
            frame = av.AudioFrame.from_ndarray(np.zeros((1, 1024), np.float32), format="fltp", layout="mono")
            frame.sample_rate, frame.pts = 44_100, 1024 * number
            for packet in tones.encode(frame):
                made.mux(packet)
    content = written.getvalue()
    if not secret:
        return content
    xmp = b"uuid" + bytes(16) + f"<x:xmpmeta>{secret}-xmp</x:xmpmeta>".encode()
    return content + struct.pack(">I", len(xmp) + 4) + xmp + f"{secret}-behind".encode()


def greys(track: av.VideoStream, count: int) -> Iterator[av.Packet]:
    """Frames that grow lighter, coded."""
    for number in range(count):
        grey = np.full((SIDE_PX, SIDE_PX, 3), number * 5 % 255, np.uint8)
        yield from track.encode(av.VideoFrame.from_ndarray(grey, format="rgb24"))
    yield from track.encode()


def with_message(packet: av.Packet, text: str) -> av.Packet:
    """The packet with a message of the user's own (SEI 5) before its pictures.

    Source: ITU-T H.264, 7.3.2.3 and D.1.7; annex B: units begin with 00 00 00 01 (all from memory).
    """
    told = bytes(16) + text.encode()
    unit = b"\x06\x05" + bytes([len(told)]) + told + b"\x80"
    changed = av.Packet(b"\0\0\0\x01" + unit + bytes(packet))
    for name in ("stream", "pts", "dts", "time_base", "duration", "is_keyframe"):
        setattr(changed, name, getattr(packet, name))
    return changed
