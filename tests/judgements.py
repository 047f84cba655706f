"""What a judgement of a way holds, by its words and codes."""

from __future__ import annotations

from phasewright.ways.way import Judgement, Offer


def offer_named(judgement: Judgement, words: str) -> Offer:
    return next(offer for offer in judgement.offers if offer.words == words)


def codes(judgement: Judgement) -> set[str]:
    return {reason.code for reason in (*judgement.reasons, *judgement.conditions)}
