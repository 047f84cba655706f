"""Writes the schemas of every file from their frozen data classes."""

from __future__ import annotations

from pathlib import Path

from phasewright.files.result_schema import result_schema_text
from phasewright.files.shop_schema import shop_schema_text
from phasewright.files.start_file import start_schema_text
from phasewright.files.wiring_files import wiring_schema_text

DOCS = Path(__file__).resolve().parents[1] / "docs"

if __name__ == "__main__":
    (DOCS / "result.schema.json").write_text(result_schema_text(), encoding="utf-8")
    (DOCS / "shop.schema.json").write_text(shop_schema_text(), encoding="utf-8")
    (DOCS / "start.schema.json").write_text(start_schema_text(), encoding="utf-8")
    (DOCS / "wiring.schema.json").write_text(wiring_schema_text(), encoding="utf-8")
