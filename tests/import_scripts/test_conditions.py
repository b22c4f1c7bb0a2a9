"""What the words beside a row of our compilation tell: conditions, methods, ages. Rows as it has them."""

from import_scripts.published_facts.conditions import age_of, beside_age, method_of, parsed


def test_conditions_keep_what_they_cannot_name() -> None:
    """Known keys become conditions, the rest stays together word for word."""
    found = parsed("name=squash; longest lateral at 6 weeks; place=Nebraska")

    assert {"name": "squash", "place": "Nebraska", "detail": "longest lateral at 6 weeks"} == found


def test_methods_and_ages_are_read_from_the_words() -> None:
    """A method that decides the weight, and an age that is printed as one."""
    assert "minirhizotron" == method_of("catch crop, minirhizotron, end of October")
    assert method_of("guide figure") is None
    assert method_of("name=Dioscorea esculenta; radial extent of the root system") is None
    assert "tube" == method_of("rhizotubes, the deepest of six genotypes")
    assert "2 months" == age_of("2 months old, Norman Oklahoma")
    assert "up to 3 years" == age_of("cv A; trees up to 3 years; Isparta, Turkey")
    assert "17 years" == age_of("rootstock=Rough lemon; 17 years; appreciable share")
    assert "12-year" == age_of("longest root; 12-year-old shrubs")
    assert "nearly 2 months" == age_of("cultivar=Large London; nearly 2 months old, Norman, Oklahoma")
    assert "at least 10 years" == age_of("clumps at least 10 years old, silt loam")
    assert "5 weeks" == age_of("main horizontal roots at 5 weeks")
    assert age_of("6-year minirhizotron study") is None


def test_an_age_is_told_once() -> None:
    """A part that says the age alone goes; words about the plants that hold it stay whole."""
    assert beside_age("about 7 weeks", "about 7 weeks") == ""
    assert beside_age("8 weeks old, silt loam", "8 weeks") == "silt loam"
    assert beside_age("cv A; 15 years; sandy soil, drip", "15 years") == "cv A; sandy soil, drip"
    assert beside_age("longest root; 12-year-old shrubs", "12-year") == "longest root; 12-year-old shrubs"
