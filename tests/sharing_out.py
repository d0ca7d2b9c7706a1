"""Which worker gets which file. Files that drive a browser follow one another: a browser and the servers it visits stand once a worker."""

from __future__ import annotations

from xdist.scheduler import LoadFileScheduling
from xdist.workermanage import WorkerController

BROWSER = "tests/browser/"
# Long files of few tests: begun last, they would leave the other workers with nothing to do.
LONG = (
    "tests/browser/test_accessible.py",
    "tests/browser/test_notebooks.py",
    "tests/browser/test_connection.py",
    "tests/browser/test_whole_job.py",
    "tests/test_visitors.py",
    "tests/estimates/test_study.py",
    "tests/page/crowd/test_furnishing.py",
    "tests/page/crowd/test_leaving.py",
)


class ByKind(LoadFileScheduling):
    """A file stays whole, as under ``--dist loadfile``. The last worker takes what needs no browser, the others what does; whoever has no
    more of its kind takes of the other. The long files come first, then those of most tests."""

    def _assign_work_unit(self, node: WorkerController) -> None:
        drives = node is not list(self.assigned_work)[-1]
        place = {scope: number for number, scope in enumerate(LONG)}
        first = min(
            self.workqueue,
            key=lambda scope: (scope.startswith(BROWSER) is not drives, place.get(scope, len(LONG))),
        )
        self.workqueue.move_to_end(first, last=False)
        super()._assign_work_unit(node)
