"""Everything the program keeps in memory between two studies: found, counted, forgotten."""

import importlib
import pkgutil
from functools import cache

import phasewright


@cache
def kept():
    """Every cache of the program."""
    found = {}
    for each in pkgutil.walk_packages(phasewright.__path__, "phasewright."):
        if each.name.endswith("__main__"):
            continue
        module = importlib.import_module(each.name)
        for thing in vars(module).values():
            if hasattr(thing, "cache_info") and hasattr(thing, "cache_clear"):
                found[id(thing)] = thing
    return tuple(found.values())


def forget():
    """What a new process would know: nothing."""
    for each in kept():
        each.cache_clear()
