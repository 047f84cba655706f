"""Writes docs/result.schema.json from the frozen data classes of the study."""

from __future__ import annotations

from pathlib import Path

from phasewright.files.result_schema import result_schema_text

DOCS = Path(__file__).resolve().parents[1] / "docs"

if __name__ == "__main__":
    (DOCS / "result.schema.json").write_text(result_schema_text(), encoding="utf-8")
