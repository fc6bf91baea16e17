"""More than is wanted: said only where somebody said how much, and while weeks of it are ahead."""

from datetime import date

from gardens import beans, entry, look_ahead, plot

from kailyard.season.sheet import compose
from kailyard.season.work import surplus

SOWN = entry("sow", "bean-1", date(2026, 5, 20))
TODAY = date(2026, 7, 14)


def want(kg, day=date(2026, 6, 1)):
    return entry("want", "", day, quantity=kg, unit="kg", crop="bean-bush")


def said(*entries, today=TODAY):
    view = look_ahead(plot(beans(), entries=(SOWN, *entries)), today)
    return tuple(surplus.windows(view, view.garden))


def test_a_row_of_beans_is_more_than_a_spoonful():
    # Published: 0.45 to 1.1 kg/m² (extension table of field yields, as in the handbook): a bed of 7 m² gives kilograms
    # within three weeks, far more than 100 g a week.
    (line,) = said(want(0.1))
    assert line.name == "surplus/bean-bush"
    assert line.says.startswith("More snap beans than you want")
    assert line.of == ("bean-1",)
    assert line.reasons[0].rests_on.status == "observed"


def test_it_stands_on_the_sheet_among_what_may_be_left():
    view = look_ahead(plot(beans(), entries=(SOWN, want(0.1))), TODAY)
    assert "surplus/bean-bush" in {line.name for line in compose(view).leave}


def test_it_is_silent_where_nobody_said_how_much_or_wants_it_all():
    assert said() == ()
    assert said(want(100.0)) == ()
    assert said(want(0.1), want(0.0, date(2026, 6, 2))) == ()


def test_it_is_silent_months_ahead_and_when_all_is_over():
    assert said(want(0.1), today=date(2026, 5, 25)) == ()
    assert said(want(0.1), entry("clear", "bean-1", date(2026, 7, 10))) == ()
