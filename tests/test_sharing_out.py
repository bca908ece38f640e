"""The tests are shared out each once, from both ends of the row."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sharing_out import COMPUTING, WAITING, SharingOut, place_in_row

HERE = Path(__file__).parent
FILES = sorted(path.name for path in HERE.glob("test_*.py"))


class Worker:
    """Keeps what it is told to run."""

    gateway = SimpleNamespace(id="worker")
    shutting_down = False

    def __init__(self) -> None:
        self.told: list[int] = []

    def send_runtest_some(self, numbers: list[int]) -> None:
        self.told += numbers

    def shutdown(self) -> None:
        self.shutting_down = True


def test_the_lists_name_files_that_are_there() -> None:
    named = [*WAITING, *COMPUTING]
    assert len(set(named)) == len(named)
    assert {f"{name}.py" for name in named} <= set(FILES)


@given(
    st.lists(st.sampled_from(FILES), min_size=4, max_size=30, unique=True),
    st.integers(1, 3),
    st.integers(1, 4),
    st.data(),
)
def test_each_test_is_run_once_and_the_ends_of_the_row_first(
    files: list[str], each: int, count: int, data: st.DataObject
) -> None:
    files.sort(key=lambda name: place_in_row(HERE / name))
    row = [f"tests/{name}::test[{number}]" for name in files for number in range(each)]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("xdist.scheduler.loadscope.parse_tx_spec_config", lambda _: [""] * count)
        sharing = SharingOut(SimpleNamespace(option=SimpleNamespace(loadscopereorder=False)))
    workers = [Worker() for _ in range(count)]
    for worker in workers:
        sharing.add_node(worker)
        sharing.add_node_collection(worker, row)
    sharing.schedule()
    assert workers[0].told[0] == 0
    assert count == 1 or row[workers[1].told[0]].startswith(f"tests/{files[-1]}")
    done = dict.fromkeys(range(count), 0)
    while busy := [n for n in range(count) if done[n] < len(workers[n].told)]:
        number = data.draw(st.sampled_from(busy))
        done[number] += 1
        sharing.mark_test_complete(workers[number], workers[number].told[done[number] - 1])
    assert sorted(test for worker in workers for test in worker.told) == list(range(len(row)))
