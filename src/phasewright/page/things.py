"""Places, parts on the shelf, prices that were told, and what takes power in a machine: one form
each, with a second like it and taking away."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from phasewright.job import things
from phasewright.job.texts import entries
from phasewright.page.forms import Answers, Field, NotTaken, fields, form_of, texts
from phasewright.page.looks import looks
from phasewright.page.open_shop import Seen
from phasewright.page.settling import seen_by
from phasewright.page.supplying import kept
from phasewright.page.viewing import opened
from phasewright.shop import thing_questions as ask
from phasewright.shop.model import Shop
from phasewright.shop.questions import Option, Question

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class Things:
    """A list of the shop file as the page shows it.

    `kind` is the question that decides which others are asked, `asked` by its answer; None where
    all things of the list are asked the same, which stands at the empty key.
    """

    list: str
    title: str
    one: str
    lead: str
    kind: Question | None
    asked: Mapping[Any, tuple[Question, ...]]
    every: tuple[Question, ...]


LISTS = {
    "place": Things(
        "places", "Places", "a building or room of its own",
        "Where machines stand when it is not all one room at the intake: each with the cable that "
        "leads there. Power for what stands there comes over that cable.",
        None, {"": ask.PLACE}, ask.PLACE,
    ),
    "shelf": Things(
        "owned_parts", "On your shelf", "a part you have",
        "What you have need not be bought: the answer weighs it where it fits, and says why where "
        "it does not.",
        ask.PART_KIND, ask.PART, ask.PART_ALL,
    ),
    "price": Things(
        "quotes", "Prices you were told", "a price you were told",
        "A price of yours takes the place of the illustrative one in every plan.",
        ask.PRICE_KIND, ask.PRICE, ask.PRICE_ALL,
    ),
}  # fmt: skip
OTHER = Things(
    "others", "What else takes power in it", "something else in it",
    "Heaters, lamps, sockets, electronics: whatever is no motor.",
    None, {"": ask.CONSUMER}, ask.CONSUMER,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Seat:
    """One thing of a list, or a new one at its end; `at` is the path of the list, `page` the
    address of the list below the shop's."""

    of: Things
    at: str
    page: str
    listed: list[dict[str, Any]]
    number: int
    machine: int | None = None

    @property
    def new(self) -> bool:
        return self.number == len(self.listed)

    @property
    def path(self) -> str:
        return f"{self.at}[{self.number}]"

    @property
    def entries(self) -> dict[str, Any]:
        return {} if self.new else self.listed[self.number]

    def questions(self, kind: str, shop: Shop) -> tuple[Question, ...]:
        """What is asked of it: what its kind wants, and what the file tells besides."""
        known = self.of.asked.get(kind, self.of.every)
        told = {key.split(".")[0] for key in self.entries}
        besides = (q for q in self.of.every if q.key.split(".")[0] in told and q not in known)
        return tuple(_named(question, shop) for question in (*known, *besides))


def _named(question: Question, shop: Shop) -> Question:
    """The question which machine, with the machines there are."""
    if question.key != "machine":
        return question
    return replace(question, options=tuple(Option(each.name, each.name) for each in shop.machines))


def _seat(seen: Seen, what: str, number: str, machine: int | None) -> Seat | None:
    """The thing of an address; None where there is none."""
    whole = entries(seen.shop, seen.shop)
    if machine is None:
        of = LISTS.get(what)
        at, page = ("", "") if of is None else (of.list, what)
        holder = whole
    elif 0 <= machine < len(seen.shop.machines):
        of, at, page = OTHER, f"machines[{machine}].others", f"machine/{machine}/other"
        holder = whole["machines"][machine]
    else:
        return None
    if of is None:
        return None
    listed = list(holder.get(of.list, []))
    if number == "new":
        return Seat(of, at, page, listed, len(listed), machine)
    if not (number.isdecimal() and len(number) < 5 and int(number) < len(listed)):
        return None
    return Seat(of, at, page, listed, int(number), machine)


@router.get("/machine/{machine}/other/{number}")
def other(request: Request, key: str, machine: int, number: str) -> Response:
    """The form of something in a machine that takes power and is no motor."""
    return _shown(request, key, "", number, machine)


@router.post("/machine/{machine}/other/{number}")
async def change_other(request: Request, key: str, machine: int, number: str) -> Response:
    """What was typed about it."""
    return await _changed(request, key, "", number, machine)


@router.get("/things/{what}")
def listed(request: Request, key: str, what: str) -> Response:
    """All things of a list, and one more."""
    entry = opened(request, key)
    of = LISTS.get(what)
    if entry is None or of is None:
        return looks("gone.html", 404)
    shop = entry.shop
    known = entries(shop, shop).get(of.list, [])
    return looks(
        "things.html", here=f"/shop/{key}", shop=shop, of=of, page=what,
        rows=[label(of, each) for each in known],
    )  # fmt: skip


@router.get("/things/{what}/{number}")
def thing(request: Request, key: str, what: str, number: str) -> Response:
    """The form of one thing; of a new one after its kind is chosen."""
    return _shown(request, key, what, number, None)


@router.post("/things/{what}/{number}")
async def change(request: Request, key: str, what: str, number: str) -> Response:
    """What was typed about it, or what was done with it."""
    return await _changed(request, key, what, number, None)


def label(of: Things, entry: Mapping[str, Any]) -> str:
    """A thing in a few words: its name, else what it is and how large."""
    if "name" in entry:
        return str(entry["name"])
    kind = of.kind or of.every[0]
    told = [kind.told(entry["kind"])]
    sizes = ("power", "rating", "current", "capacitance", "resistance", "machine")
    told += [str(entry[size]) for size in sizes if size in entry][:1]
    if "price" in entry:
        told.append(f"for {entry['price']:g}")
    if "count" in entry:
        told.append(f"{entry['count']} of them")
    return ", ".join(told)


def _shown(request: Request, key: str, what: str, number: str, machine: int | None) -> Response:
    entry = opened(request, key)
    seat = None if entry is None else _seat(entry.now(), what, number, machine)
    if entry is None or seat is None:
        return looks("gone.html", 404)
    given = {name: text[:80] for name, text in request.query_params.items()}
    return _form(entry.now(), seat, given or None)


async def _changed(
    request: Request, key: str, what: str, number: str, machine: int | None
) -> Response:
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    seen = seen_by(entry, typed)
    seat = _seat(seen, what, number, machine)
    if seat is None:
        return looks("gone.html", 404)
    try:
        return kept(request, seen, _asked(seen, seat, typed))
    except NotTaken as refused:
        return _form(seen, seat, typed, refused.wrong)


def _asked(seen: Seen, seat: Seat, typed: Mapping[str, str]) -> Answers:
    """What was typed about a thing or done with it, as changes of the shop file."""
    do, answers = typed.get("do", ""), Answers(typed)
    this = seat.entries
    is_place = seat.of.list == "places"
    if do == "duplicate" and not seat.new:
        answers.made |= things.duplicate(seat.at, seat.listed, seat.number)
        return answers
    if do == "take away" and not seat.new:
        moved = things.moved_out(seen.shop, this["name"]) if is_place else {}
        answers.made |= moved | things.take_away(seat.at, seat.listed, seat.number)
        return answers
    kind = _kind(seat, typed)
    asked = list(seat.questions(kind, seen.shop))
    asked += [q for q in seat.of.every if typed.get(q.key, "").strip() and q not in asked]
    head = () if seat.of.kind is None else (seat.of.kind,)
    answers.take((*head, *asked), this, seat.path)
    if seat.new:
        made = {path.removeprefix(f"{seat.path}."): entry for path, entry in answers.made.items()}
        answers.made = things.add(seat.at, seat.listed, _nested(made))
    if is_place:
        name = typed.get("name", "").strip()
        here = frozenset(typed.get("machines", "").splitlines())
        answers.made |= things.standing_in(seen.shop, str(this.get("name", "")), name, here)
    return answers


def _nested(made: Mapping[str, Any]) -> dict[str, Any]:
    """Keys with dots as mappings in mappings."""
    whole: dict[str, Any] = {}
    for key, entry in made.items():
        *deeper, last = key.split(".")
        room = whole
        for name in deeper:
            room = room.setdefault(name, {})
        room[last] = entry
    return whole


def _kind(seat: Seat, typed: Mapping[str, str]) -> str:
    """Which kind of thing it is, as it was typed or as the file says."""
    if seat.of.kind is None:
        return ""
    words = typed.get("kind", "")
    chosen = [str(o.entry) for o in seat.of.kind.options if words in (o.words, o.entry)]
    return chosen[0] if chosen else str(seat.entries.get("kind", ""))


def _form(
    seen: Seen,
    seat: Seat,
    typed: Mapping[str, str] | None = None,
    wrong: Mapping[str, list[str]] | None = None,
) -> Response:
    shop, of = seen.shop, seat.of
    kind = _kind(seat, typed or {})
    if of.kind is not None and not kind:
        return looks(
            "thing_kinds.html", here=f"/shop/{seen.key}", shop=shop, of=of, page=seat.page,
            options=of.kind.options,
        )  # fmt: skip
    asked = fields(seat.questions(kind, shop), seat.entries, "", seat.path, shop.region, typed)
    head: Field | None = None
    if of.kind is not None:
        head = Field("kind", of.kind, of.kind.told(kind))
    return looks(
        "thing.html",
        422 if wrong else 200,
        here=f"/shop/{seen.key}",
        shop=shop,
        state=seen.number,
        of=of,
        seat=seat,
        address=f"/shop/{seen.key}/{_address(seat)}",
        title=of.one if seat.new else label(of, seat.entries),
        kind=head,
        asked=asked,
        standing=_standing(seat, shop, typed),
        wrong=wrong or {},
    )


def _address(seat: Seat) -> str:
    number = "new" if seat.new else str(seat.number)
    return f"{seat.page if seat.machine is not None else f'things/{seat.page}'}/{number}"


def _standing(
    seat: Seat, shop: Shop, typed: Mapping[str, str] | None
) -> list[tuple[str, bool]] | None:
    """The machines with whether they stand in a place; None for what is no place."""
    if seat.of.list != "places":
        return None
    name = seat.entries.get("name")
    here = {each.name for each in shop.machines if name is not None and each.place == name}
    if typed is not None and "machines" in typed:
        here = set(typed["machines"].splitlines())
    return [(each.name, each.name in here) for each in shop.machines]
