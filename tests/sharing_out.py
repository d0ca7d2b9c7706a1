"""Which worker gets which file. Files that drive a browser follow one another: a browser and the servers it visits stand once a worker."""

from __future__ import annotations

from xdist.scheduler import LoadFileScheduling
from xdist.workermanage import WorkerController

BROWSER = "tests/browser/"
# Long files of few tests: begun last, they would leave the other workers with nothing to do.
LONG = (
    "tests/browser/test_screens.py",
    "tests/browser/test_small_sets.py",
    "tests/browser/test_notebooks.py",
    "tests/browser/test_connection.py",
    "tests/browser/test_whole_job.py",
    "tests/browser/test_accessible.py",
    "tests/browser/test_order.py",
    "tests/test_visitors.py",
    "tests/test_uploads.py",
    "tests/mutation/test_mutants.py",
    "tests/scripts/test_scripts.py",
    "tests/estimates/test_study.py",
    "tests/page/crowd/test_furnishing.py",
    "tests/page/crowd/test_leaving.py",
    "tests/records/store/test_kills.py",
    "tests/serving/test_messages.py",
    "tests/serving/test_operating.py",
    "tests/serving/test_own_notebook.py",
    "tests/serving/test_processes.py",
)


class ByKind(LoadFileScheduling):
    """A file stays whole, as under ``--dist loadfile``. The first worker takes what drives a browser, the others what needs none; whoever has
    no more of its kind takes of the other. The long files come first, then those of most tests."""

    def _assign_work_unit(self, node: WorkerController) -> None:
        drives = node is next(iter(self.assigned_work))
        place = {scope: number for number, scope in enumerate(LONG)}
        first = min(
            self.workqueue,
            key=lambda scope: (scope.startswith(BROWSER) is not drives, place.get(scope, len(LONG))),
        )
        self.workqueue.move_to_end(first, last=False)
        super()._assign_work_unit(node)
