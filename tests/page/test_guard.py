"""Whom the server answers, how much it reads, and what it never shows.

Sources: WHATWG Fetch (Origin, Sec-Fetch-Site), W3C Content Security Policy level 3; that a server
on the loopback address needs both checks is common practice, no source.
"""

import io

import pytest
from starlette.testclient import TestClient

from phasewright.page.limits import LOCAL
from phasewright.page.server import most_body, page

MOST_BODY = most_body(LOCAL)
HERE = "http://127.0.0.1:8765"
ROOM = {"content-type": "application/x-www-form-urlencoded"}


@pytest.mark.parametrize("host", ["127.0.0.1:8765", "localhost:1", "LOCALHOST", "[::1]:8765"])
def test_its_own_names_are_answered(client, host):
    assert client.get("/", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "host", ["example.org", "example.org:8765", "127.0.0.1.example.org", "", "localhost.example"]
)
def test_a_foreign_name_is_not_answered(client, host):
    """A foreign site that lets its name lead to this computer gets nothing."""
    assert client.get("/", headers={"host": host}).status_code == 400


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://example.org"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:9999"},
        {"origin": "http://localhost:8765"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
@pytest.mark.parametrize("path", ["/demo/pottery", "/first", "/open", "/api/study"])
def test_a_change_from_another_site_is_refused(client, headers, path):
    assert client.post(path, headers=headers).status_code == 403


def test_a_change_from_its_own_page_is_taken(client):
    made = client.post(
        "/demo/pottery", headers={"origin": HERE, "sec-fetch-site": "same-origin"},
        follow_redirects=False,
    )  # fmt: skip
    assert made.status_code == 303


@pytest.mark.parametrize(
    ("path", "status"),
    [("/", 200), ("/shop/nothing", 404), ("/static/page.css", 200), ("/api/shop.schema.json", 200),
     ("/nowhere", 404), ("/api/nowhere", 404)],
)  # fmt: skip
def test_every_answer_says_what_a_page_may_load(client, path, status):
    answer = client.get(path)
    assert answer.status_code == status
    policy = dict(
        part.strip().split(" ", 1) for part in answer.headers["content-security-policy"].split(";")
    )
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == policy["connect-src"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert answer.headers["x-content-type-options"] == "nosniff"


def test_a_refusal_says_so_too(client):
    refused = client.post("/demo/pottery", headers={"origin": "http://example.org"})
    assert "default-src 'none'" in refused.headers["content-security-policy"]


def test_a_body_that_says_it_is_too_large_is_not_read(client):
    assert client.post("/first", content=b"x" * (MOST_BODY + 1), headers=ROOM).status_code == 413


def test_a_body_that_does_not_say_how_large_it_is_is_cut_off(client):
    pieces = (b"x" * 65536 for _ in range(MOST_BODY // 65536 + 2))
    assert client.post("/first", content=pieces, headers=ROOM).status_code == 413


def test_a_fault_is_told_without_its_trace(app):
    @app.get("/breaks")
    def breaks():
        raise ZeroDivisionError("secret place")

    with TestClient(app, base_url=HERE, raise_server_exceptions=False) as client:
        told = client.get("/breaks")
    assert told.status_code == 500
    assert "fault of this program" in told.text
    for word in ("Traceback", "secret place", "ZeroDivision", "breaks", ".py"):
        assert word not in told.text


@pytest.mark.parametrize(
    "path",
    ["/static/../server.py", "/static/..%2fserver.py", "/static/%2e%2e/server.py",
     "/fonts/..%2fsvg.py", "/static/..%5cserver.py", "/demo/..%2f..%2fpyproject",
     "/static//etc/passwd"],
)  # fmt: skip
def test_no_path_leads_out_of_its_folder(client, path):
    for answer in (client.get(path), client.post(path, headers={"origin": HERE})):
        assert answer.status_code in (404, 405)
        assert "import" not in answer.text


@pytest.mark.parametrize(
    "name", ["../../etc/passwd", "<img src=x onerror=alert(1)>.yaml", "a" * 500, "\u202egnp.yaml"]
)
def test_the_name_of_a_file_is_told_and_nothing_else(client, name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    files = {"shop": (name, io.BytesIO(b"phasewright: 1\n"), "text/plain")}
    told = client.post("/open", files=files, headers={"origin": HERE})
    assert told.status_code == 422
    assert "<img" not in told.text
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "raw",
    [b"", b"\x00\x01", b"\xff\xfe", b"a: [", b"&a [*a]", b"x" * 1_000_001, b"a:\n" * 50_000,
     b"{" * 5000],
    ids=["empty", "binary", "utf16", "torn", "alias", "large", "repeated", "deep"],
)  # fmt: skip
def test_a_hostile_file_is_refused_in_words(client, raw):
    files = {"shop": ("shop.yaml", io.BytesIO(raw), "text/plain")}
    told = client.post("/open", files=files, headers={"origin": HERE})
    assert told.status_code == 422
    assert "was not opened" in told.text


def test_served_publicly_any_name_is_answered_but_no_foreign_change():
    with TestClient(page(public=True)[0], base_url="http://workshop.local:8765") as client:
        assert client.get("/").status_code == 200
        refused = client.post("/demo/pottery", headers={"origin": "http://example.org"})
        assert refused.status_code == 403


@pytest.mark.parametrize(
    ("path", "how", "status", "back"),
    [
        ("/demo/pottery", {"headers": {"origin": "http://example.org"}}, 403, "/"),
        ("/shop/0123456789abcdef01234567/supply", {"content": b"x" * (MOST_BODY + 1),
         "headers": ROOM}, 413, "/shop/0123456789abcdef01234567"),
        ("/first", {"headers": {"host": "example.org"}}, 400, "http://127.0.0.1:"),
        ("/shop/0123456789abcdef01234567/history", {}, 405, "/"),
        ("/open", {"headers": {"content-type": "multipart/form-data"}}, 400, "/"),
    ],
)  # fmt: skip
def test_a_refusal_is_a_page_with_a_way_back(client, path, how, status, back):
    told = client.post(path, **how)
    assert told.status_code == status
    assert told.headers["content-type"].startswith("text/html")
    assert f'class="go" href="{back}' in told.text
