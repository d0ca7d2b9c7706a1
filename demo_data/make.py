"""Write the invented demo records: ``python demo_data/make.py`` makes every file anew, byte for byte the same."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))  # the schema the descriptor is written from

from generator.scenario import scenario
from generator.write import write


def main() -> None:
    parser = argparse.ArgumentParser(description="Make the invented demo records anew.")
    parser.add_argument(
        "--folder", type=Path, default=Path(__file__).resolve().parent, help="where to write them"
    )
    parser.add_argument("--seed", type=int, default=20260105, help="another seed makes another valley")
    parser.add_argument("--cultivars", type=int, default=350, help="cultivars that pass through the station")
    parser.add_argument("--seasons", type=int, default=10, help="seasons, the last of which is 2025")
    chosen = parser.parse_args()
    whole = scenario(chosen.seed, chosen.cultivars, chosen.seasons)
    write(whole, chosen.folder)
    rows = ", ".join(f"{name} {len(table):,}" for name, table in whole.tables.items())
    print(f"{chosen.folder}: {rows}")


if __name__ == "__main__":
    main()
