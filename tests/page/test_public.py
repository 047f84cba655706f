"""For many visitors: each apart, each with a fair part, refused politely, and nothing kept.

Source: RFC 6585, section 4 (429 and Retry-After); RFC 9110, 15.5.9 (408) and 15.6.4 (503).
"""

import asyncio
import re
from concurrent.futures import ThreadPoolExecutor

import pytest
from page.conftest import ROOT
from starlette.testclient import TestClient

from phasewright.page import limits
from phasewright.page.guard import Guard
from phasewright.page.limits import PUBLIC, Allowance, Rates
from phasewright.page.server import page
from phasewright.page.studies import TOO_MANY, Studies

BASE = "http://shops.example:8765"
HERE = {"origin": BASE}
TEXT = (ROOT / "examples" / "pottery.shop.yaml").read_text(encoding="utf-8")


@pytest.fixture
def no_study(monkeypatch):
    monkeypatch.setattr(Studies, "begin", lambda *_: None)


@pytest.fixture
def visitors(no_study):
    """Visitors of one public server, each from an address of its own."""
    app, _ = page(public=True)
    made = []

    def visitor(number):
        client = TestClient(app, base_url=BASE, client=(f"192.0.2.{number}", 50_000))
        made.append(client)
        return client

    yield visitor
    for client in made:
        client.close()


def opened(client, text=TEXT, status=303):
    files = {"shop": ("a.shop.yaml", text.encode(), "text/plain")}
    answer = client.post("/open", files=files, headers=HERE, follow_redirects=False)
    assert answer.status_code == status, answer.text
    return answer.headers.get("location") or answer.text


def renamed(client, place, name):
    state = re.search(r'name="state" value="(\d+)"', client.get(f"{place}/wishes").text)[1]
    data = {"state": state, "shop": name}
    return client.post(f"{place}/wishes", data=data, headers=HERE, follow_redirects=False)


def test_every_visitor_sees_the_own_shop_alone(visitors):
    one, other = visitors(1), visitors(2)
    mine, theirs = opened(one), opened(other)
    assert mine != theirs
    assert renamed(one, mine, "Secret shed").status_code == 303
    assert "Secret shed" in one.get(f"{mine}/shop.yaml").text
    assert other.get(f"{theirs}/shop.yaml").text == TEXT
    for path in ("/", "/health", theirs, f"{theirs}/history", "/api/openapi.json"):
        told = other.get(path).text
        assert "Secret shed" not in told
        assert mine.removeprefix("/shop/") not in told


def test_an_address_of_a_shop_cannot_be_guessed(visitors):
    places = {opened(visitors(number)).removeprefix("/shop/") for number in range(3)}
    assert len(places) == 3
    assert all(re.fullmatch("[0-9a-f]{24}", place) for place in places)  # 96 bits
    assert visitors(9).get("/shop/" + "0" * 24).status_code == 404


def test_nothing_is_kept_even_where_a_folder_is_at_hand(no_study, tmp_path):
    from phasewright.files.shop_folder import ShopFolder

    app, _ = page(public=True, folder=ShopFolder(tmp_path / "shops"))
    with TestClient(app, base_url=BASE) as client:
        place = opened(client)
        assert renamed(client, place, "Secret shed").status_code == 303
        assert client.get(place).status_code == 200
    assert list(tmp_path.iterdir()) == []


def test_who_sends_too_often_is_told_to_wait_and_others_are_not(visitors, monkeypatch):
    now = [1000.0]
    monkeypatch.setattr(limits.time, "monotonic", lambda: now[0])
    hasty, other = visitors(1), visitors(2)
    answers = [hasty.post("/demo/nothing", headers=HERE) for _ in range(61)]
    assert [answer.status_code for answer in answers] == [404] * 60 + [429]
    late = answers[-1]
    assert late.headers["retry-after"] == "1"
    assert "wait 1 second and ask again" in late.text
    assert "default-src 'none'" in late.headers["content-security-policy"]
    assert hasty.get("/").status_code == 200, "looking is counted apart"
    assert hasty.get("/static/page.css").status_code == 200
    assert other.post("/demo/nothing", headers=HERE).status_code == 404
    now[0] += 1.0
    assert [hasty.post("/demo/nothing", headers=HERE).status_code for _ in range(3)] == [
        404,
        404,
        429,
    ]
    api = hasty.post("/api/study", content=TEXT, headers=HERE)
    assert api.status_code == 429
    assert "Traceback" not in api.text


def test_at_home_nobody_is_counted(no_study):
    with TestClient(page()[0], base_url="http://127.0.0.1:8765") as client:
        answers = {client.post("/demo/nothing").status_code for _ in range(100)}
    assert answers == {404}


def test_an_allowance_fills_again_as_told_and_forgets_the_longest_gone(monkeypatch):
    now = [0.0]
    monkeypatch.setattr(limits.time, "monotonic", lambda: now[0])
    monkeypatch.setattr(Allowance, "MOST", 2)
    of = Allowance(0.5, 2.0)
    assert [of.wait_s("a") for _ in range(3)] == [0.0, 0.0, 2.0]
    now[0] = 1.0
    assert of.wait_s("a") == pytest.approx(1.0)
    now[0] = 1000.0
    assert [of.wait_s("a") for _ in range(3)] == [0.0, 0.0, 2.0]
    of.wait_s("b")
    of.wait_s("c")
    assert of.wait_s("a") == 0.0, "it was forgotten, and is new"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (TEXT + "#" * PUBLIC.text, "up to 64 kB"),
        (TEXT.replace("machines:\n", "machines:\n" + "".join(
            f"  - {{name: M{n}, motors: [{{name: m, plate: {{power: 1 kW}}, load: {{kind: fan}}}}]}}\n"
            for n in range(PUBLIC.motors)
        )), "up to 40 motors"),
    ],
    ids=["bytes", "motors"],
)  # fmt: skip
def test_a_shop_too_large_for_strangers_is_refused_with_a_way_out(visitors, text, words):
    told = opened(visitors(1), text, 422)
    assert words in told
    assert "your own computer" in told
    api = visitors(1).post("/api/study", content=text.encode(), headers=HERE)
    assert api.status_code == 422
    assert api.json()["mistakes"][0]["allowed"] in words


def test_a_change_that_makes_a_shop_too_large_is_refused_and_the_shop_stays(visitors):
    client = visitors(1)
    place = opened(client)
    refused = renamed(client, place, "x" * PUBLIC.text)
    assert refused.status_code == 422
    assert client.get(f"{place}/shop.yaml").text == TEXT


def test_only_so_many_states_of_a_shop_are_kept(visitors):
    client = visitors(1)
    place = opened(client)
    for number in range(PUBLIC.states + 5):
        assert renamed(client, place, f"Shed {number}").status_code == 303
    shelf = client.app.state.shelf
    assert len(shelf.get(place.removeprefix("/shop/")).states) == PUBLIC.states


def test_who_waits_is_told_the_place_in_the_line(no_study, monkeypatch):
    monkeypatch.setattr(Studies, "place", lambda *_: 7)
    with TestClient(page(public=True)[0], base_url=BASE) as client:
        told = client.get(opened(client)).text
    assert "yours is number 7 in the line" in told


def test_where_the_line_is_full_the_shop_stays_and_is_asked_for_anew(monkeypatch):
    room = []

    def begin(self, one, before="", who=""):
        if not room:
            one.failed, one.again = TOO_MANY, True

    monkeypatch.setattr(Studies, "begin", begin)
    with TestClient(page(public=True)[0], base_url=BASE) as client:
        place = opened(client)
        shelf = client.app.state.shelf
        entry = shelf._shops[place.removeprefix("/shop/")]
        assert entry.work.failed == TOO_MANY
        assert "look again in a minute" in client.get(place).text
        told = client.post("/api/study", content=TEXT, headers=HERE)
        assert told.status_code == 503
        assert told.json() == {"failed": TOO_MANY}
        room.append(True)
        assert "is being worked out" in client.get(place).text


def test_what_comes_too_slowly_is_not_waited_for():
    """A visitor who opens a form and sends it letter by letter holds nothing up."""

    async def app(scope, receive, send):
        while (await receive()).get("more_body"):
            pass
        raise AssertionError("all of it was waited for")

    async def trickle():
        await asyncio.sleep(0.05)
        return {"type": "http.request", "body": b"x", "more_body": True}

    async def run():
        told = []

        async def send(message):
            told.append(message)

        guard = Guard(app, None, 10_000, body_s=0.2, rates=Rates(Allowance(9, 9), Allowance(9, 9)))
        scope = {"type": "http", "method": "POST", "path": "/first", "client": ("192.0.2.1", 1),
                 "headers": [(b"host", b"shops.example")]}  # fmt: skip
        await asyncio.wait_for(guard(scope, trickle, send), 5.0)
        return told

    with ThreadPoolExecutor(1) as apart:  # a browser of other tests has a loop in this thread
        start, body = apart.submit(lambda: asyncio.run(run())).result()
    assert start["status"] == 408
    assert b"too slowly" in body["body"]


def test_the_health_page_counts_and_tells_of_nobody(visitors):
    client = visitors(1)
    assert client.get("/health").json() == {
        "well": True, "processes": 0, "ready": 0, "working": 0, "waiting": 0, "shops": 0,
    }  # fmt: skip
    opened(client)
    assert client.get("/health").json()["shops"] == 1


def test_without_a_process_the_server_is_not_well(visitors, monkeypatch):
    monkeypatch.setattr(Studies, "begun", property(lambda self: True))
    told = visitors(1).get("/health")
    assert told.status_code == 503
    assert told.json()["well"] is False
