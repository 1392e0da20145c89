"""OLE2 files, in which old Office programs keep a workbook as one of several streams."""

from __future__ import annotations

import struct
from collections.abc import Callable, Sequence

from bankside.sheets.files.workbook_faults import Damaged

__all__ = ["Ole2Streams"]

_END_OF_CHAIN = 0xFFFFFFFA  # this and above: no further sector


class Ole2Streams:
    """The streams of an OLE2 file, read with every chain of sectors kept finite.

    Raises Damaged, and struct.error where a field is cut off.
    """

    def __init__(self, data: bytes) -> None:
        self._data = data
        if len(data) < 512:
            raise Damaged("its header is cut off")
        shift, mini_shift = struct.unpack_from("<HH", data, 30)
        if shift not in (9, 12) or mini_shift != 6:
            raise Damaged("its header is wrong")
        self._size, self._mini_size = 1 << shift, 1 << mini_shift
        first, _, self._cutoff, first_mini = struct.unpack_from("<4I", data, 48)
        self._fat = self._allocation_table()
        self._mini_fat = _numbers(self._chain(first_mini, self._fat, self._sector))
        self.names = self._directory(first)

    def read(self, name: str) -> bytes:
        """Return the content of one stream."""
        first, size = self.names[name]
        if size >= self._cutoff:
            content = self._chain(first, self._fat, self._sector)
        else:
            root = self._chain(self.names.get("", (_END_OF_CHAIN, 0))[0], self._fat, self._sector)
            step = self._mini_size
            content = self._chain(
                first, self._mini_fat, lambda number: root[number * step : (number + 1) * step]
            )
        if len(content) < size:
            raise Damaged("it ends too early")
        return content[:size]

    def _directory(self, first: int) -> dict[str, tuple[int, int]]:
        """Return for each stream its first sector and its size; the root's name is empty."""
        names: dict[str, tuple[int, int]] = {}
        directory = self._chain(first, self._fat, self._sector)
        if len(directory) % 128:
            raise Damaged("it ends too early")
        for start in range(0, len(directory), 128):
            entry = directory[start : start + 128]
            length, kind = struct.unpack_from("<HB", entry, 64)
            sector, size = struct.unpack_from("<II", entry, 116)
            name = entry[: max(min(length, 64) - 2, 0)].decode("utf-16-le", "replace")
            if kind in (2, 5):
                names.setdefault("" if kind == 5 else name, (sector, size))
        return names

    def _allocation_table(self) -> list[int]:
        """Return for each sector the number of the one that follows it."""
        count, _, _, _, _, _, following, _ = struct.unpack_from("<8I", self._data, 44)
        sectors = list(struct.unpack_from("<109I", self._data, 76))
        for _ in range(len(self._data) // self._size):
            if following >= _END_OF_CHAIN:
                break
            *more, following = _numbers(self._sector(following))
            sectors.extend(more)
        used = [number for number in sectors[:count] if number < _END_OF_CHAIN]
        return _numbers(b"".join(self._sector(number) for number in used))

    def _sector(self, number: int) -> bytes:
        start = (number + 1) * self._size
        if start >= len(self._data):
            raise Damaged("it ends too early")
        return self._data[start : start + self._size]

    def _chain(self, first: int, table: Sequence[int], sector: Callable[[int], bytes]) -> bytes:
        """Return the sectors of a chain, one after the other."""
        content: list[bytes] = []
        number = first
        while number < _END_OF_CHAIN:
            if number >= len(table) or len(content) > len(table):
                raise Damaged("a chain of sectors leads nowhere")
            content.append(sector(number))
            number = table[number]
        return b"".join(content)


def _numbers(data: bytes) -> list[int]:
    count = len(data) // 4
    return list(struct.unpack_from(f"<{count}I", data))
