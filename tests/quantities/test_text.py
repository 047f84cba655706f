from phasewright.quantities.text import listed, nearest


def test_the_nearest_word_is_found_whatever_its_hyphens_and_case():
    assert nearest("Split-Phase", ["single_phase", "split_phase"]) == "split_phase"
    assert nearest("curency", ["currency", "country"]) == "currency"


def test_where_nothing_is_alike_nothing_is_offered():
    assert nearest("xyzzy", ["currency", "country"]) is None
    assert nearest("", ["currency"]) is None


def test_lists_are_told_as_people_tell_them():
    assert listed(["a"]) == "a"
    assert listed(["a", "b", "c"]) == "a, b or c"
    assert listed(["a", "b"], "and") == "a and b"
