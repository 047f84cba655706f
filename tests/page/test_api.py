"""The JSON interface gives what the library gives, in the form its schema promises."""

import io
import json
import re
import time
import zipfile

import jsonschema
import pytest

import phasewright
from phasewright.files.result_file import study_text
from phasewright.files.result_schema import result_schema
from phasewright.files.shop_schema import shop_schema

EXAMPLE = "examples/pottery.shop.yaml"


@pytest.fixture(scope="module")
def pottery():
    from page.conftest import ROOT

    return ROOT / EXAMPLE


@pytest.mark.whole
def test_a_shop_gives_its_result_file(client, pottery):
    told = client.post("/api/study", content=pottery.read_bytes())
    assert told.status_code == 200
    assert told.headers["content-type"] == "application/json"
    jsonschema.Draft202012Validator(result_schema()).validate(told.json())
    here = json.loads(study_text(phasewright.study(phasewright.read(pottery))))
    assert told.json()["answer"] == here["answer"]
    assert told.json()["plans"] == here["plans"]


@pytest.mark.whole
def test_json_stands_for_yaml(client):
    shop = {
        "phasewright": 1, "shop": "Shed", "region": "IEC",
        "supply": {"kind": "single_phase", "voltage": "230 V", "frequency": "50 Hz"},
        "machines": [{"name": "Saw", "motors": [{"name": "motor", "plate": {"power": "2.2 kW"}}]}],
    }  # fmt: skip
    told = client.post("/api/study", content=json.dumps(shop))
    assert told.status_code == 200
    assert [motor["id"] for motor in told.json()["motors"]] == ["Saw/motor"]


def test_every_mistake_is_told_with_its_line(client, pottery):
    text = pottery.read_text(encoding="utf-8")
    text, times = re.subn(r"(?m)^(\s+)frequency: 50 Hz$", r"\1frequency: 50 kg", text)
    assert times > 1
    told = client.post("/api/study", content=text.encode())
    assert told.status_code == 422
    lines = text.splitlines()
    mistakes = told.json()["mistakes"]
    assert len(mistakes) == times
    assert all("50 kg" in lines[mistake["line"] - 1] for mistake in mistakes)


def test_the_schemas_are_those_of_the_files(client):
    assert client.get("/api/shop.schema.json").json() == shop_schema()
    assert client.get("/api/result.schema.json").json() == result_schema()


def test_the_interface_describes_itself_and_only_itself(client):
    paths = client.get("/api/openapi.json").json()["paths"]
    assert set(paths) == {"/api/study", "/api/shop.schema.json", "/api/result.schema.json"}


@pytest.mark.whole
def test_everything_can_be_kept_in_one_archive_once_the_answer_is_there(client, pottery):
    text = pottery.read_text(encoding="utf-8")
    files = {"shop": ("a.shop.yaml", text.encode(), "text/plain")}
    place = client.post("/open", files=files, follow_redirects=False).headers["location"]
    assert client.get(f"{place}/all.zip").status_code == 404
    until = time.monotonic() + 120.0
    while 'class="headline"' not in client.get(f"{place}?stage=3").text:
        assert time.monotonic() < until
    told = client.get(f"{place}/all.zip")
    assert told.headers["content-disposition"] == 'attachment; filename="lane-end-pottery.zip"'
    with zipfile.ZipFile(io.BytesIO(told.content)) as archive:
        names = {name.partition("/")[2] for name in archive.namelist()}
        kept = archive.read("lane-end-pottery/lane-end-pottery.shop.yaml").decode()
        study = json.loads(archive.read("lane-end-pottery/study.json"))
    assert {"study.json", "workings.json", "report.pdf", "sheets.pdf"} < names
    assert kept == text
    assert study["answer"] == client.get(f"{place}/study.json").json()["answer"]
    papers_are_named_for_their_readers(client, place)


def papers_are_named_for_their_readers(client, place):
    """Of a shop with its answer: the open questions of safety, then every paper, which is there."""
    told = client.get(f"{place}/papers").text
    questions, papers = told.index("what safety rests on"), told.index("The papers</h2>")
    assert told.index("Take care") < papers
    assert questions < papers
    assert "not a permission" in told
    links = re.findall(rf'href="({place}/[^"#]+)["#]', told)
    forms = [link for link in links if link.endswith("/supply") or "/machine/" in link]
    open_ones = re.search(r"(\d+) questions? (?:is|are) open", told)
    assert bool(forms) == bool(open_ones)
    assert all(client.get(link).status_code == 200 for link in forms)
    kept = {link.removeprefix(f"{place}/paper/") for link in links if "/paper/" in link}
    assert {"report.pdf", "sheets.pdf", "sheets/before-you-open.txt"} < kept
    for name in ("report.pdf", "sheets.pdf"):
        answer = client.get(f"{place}/paper/{name}")
        assert answer.content.startswith(b"%PDF-")
        assert answer.headers["content-type"] == "application/pdf"
        assert answer.headers["content-disposition"].endswith(f'-{name}"')
    text = client.get(f"{place}/paper/sheets/before-you-open.txt").text
    assert text.startswith("Before you open the box")
    for other in ("study.json", "../../etc/passwd", "sheets/none.txt", "drawings/01-A0.svg"):
        assert client.get(f"{place}/paper/{other}").status_code == 404
