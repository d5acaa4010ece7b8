"""The refusal of a physical input outside its range."""

from __future__ import annotations

import copy
import math
import pickle

import numpy as np
import pytest

from packdesk.physics.ranges import OutOfRange, plain, within


def test_a_value_on_either_bound_is_let_through() -> None:
    """Both ends of a range belong to it."""
    assert within("temp_c", -40.0, -40.0, 60.0, "°C") == -40.0
    assert within("temp_c", 60, -40.0, 60.0, "°C") == 60.0


def test_a_refusal_carries_symbol_value_range_and_unit() -> None:
    """A view can build its own sentence from the parts of a refusal."""
    with pytest.raises(OutOfRange) as caught:
        within("seam_mm", 61.5, 0.0, 50.0, "mm")

    refusal = caught.value
    parts = (refusal.symbol, refusal.value, refusal.low, refusal.high, refusal.unit)
    assert parts == ("seam_mm", 61.5, 0.0, 50.0, "mm")
    assert str(refusal) == "seam_mm is 61.5 mm; allowed is from 0 to 50 mm"


def test_a_range_open_on_one_side_is_said_in_words() -> None:
    """An infinite bound is not printed as a number."""
    assert str(OutOfRange("margin", 0.5, 1.0, math.inf)) == "margin is 0.5; allowed is at least 1"
    assert str(OutOfRange("x", 3.0, -math.inf, 1.0)) == "x is 3; allowed is at most 1"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_finite_number_is_refused(value: float) -> None:
    """NaN and infinity are refused even where the range is open."""
    with pytest.raises(OutOfRange):
        within("x", value, -math.inf, math.inf)
    with pytest.raises(OutOfRange):
        within("x", np.array([1.0, value]), -math.inf, math.inf)


def test_an_ensemble_is_refused_for_its_first_offender() -> None:
    """The refusal of an array names the first figure that is outside."""
    with pytest.raises(OutOfRange) as caught:
        within("x", np.array([[0.5, 0.2], [1.5, -7.0]]), 0.0, 1.0)

    assert caught.value.value == 1.5


def test_each_member_of_an_ensemble_may_have_its_own_bound() -> None:
    """Where the bound is an ensemble the refusal carries the bound that was overstepped."""
    with pytest.raises(OutOfRange) as caught:
        within("bulk", np.array([0.8, 1.5]), 0.05, np.array([1.4, 1.3]), "g/cc")

    assert (caught.value.value, caught.value.high) == (1.5, 1.3)


def test_single_figures_stay_plain_floats_and_ensembles_stay_arrays() -> None:
    """What goes in as one number comes out as Python's own float, never as a numpy scalar."""
    assert type(within("x", np.float64(0.5), 0.0, 1.0)) is float
    assert type(within("x", 1, 0.0, 1.0)) is float
    assert type(plain(np.array(2.0))) is float
    assert type(plain(np.float64(2.0))) is float
    ensemble = within("x", np.array([0, 1]), 0.0, 1.0)
    assert isinstance(ensemble, np.ndarray)
    assert ensemble.dtype == np.float64
    assert plain(ensemble) is ensemble


def test_a_refusal_survives_copying_and_pickling() -> None:
    """A refusal raised in a worker reaches the window whole."""
    refusal = OutOfRange("x", 2.0, 0.0, 1.0, "cc")
    for twin in (copy.copy(refusal), pickle.loads(pickle.dumps(refusal))):
        assert vars(twin) == vars(refusal)
        assert str(twin) == str(refusal)
