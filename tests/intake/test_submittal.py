"""Submittal files through the real loader."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from specgen.model.submission import Submission

HEAD = 'submittal: {number: "1"}\n'


def test_claims_with_and_without_proof(submit: Callable[[str], Submission]) -> None:
    found = submit(
        HEAD
        + "products:\n"
        + "  - role: barrier\n"
        + "    name: sample barrier\n"
        + "    kind: fluid-applied\n"
        + "    parapets: [P-1, 2]\n"
        + "    air_permeance: {value: 0.003 cfm/ft2 @ 75 Pa, method: ASTM  E2178-21, evidence: report 4}\n"
        + "    pull_adhesion: 40 psi\n"
        + "    thickness:\n"
        + "    exposure_limit: {value: , method: x}\n"
    )
    (product,) = found.products
    assert product.kind == "fluid-applied" and product.parapets == ("P-1", "2")
    assert set(product.claims) == {"air_permeance", "pull_adhesion", "kind"}  # a blank value is not stated
    air = product.claims["air_permeance"]
    assert (air.method, air.evidence, air.mark.line, air.mark.column) == ("ASTM E2178-21", "report 4", 7, 28)
    assert (product.claims["pull_adhesion"].method, product.claims["pull_adhesion"].mark.line) == ("", 8)


def test_sheet_thickness_by_gauge_and_weight(submit: Callable[[str], Submission]) -> None:
    line = "  - {role: coping, name: a, metal: %s, thickness: %s}\n"
    found = submit(
        HEAD + "products:\n" + line % ("copper", "16 oz/ft2") + line % ("stainless steel", "24 ga")
    )
    copper, steel = (product.claims["thickness"] for product in found.products)
    assert copper.value.text == "0.0216 in" and copper.written == "16 oz/ft2"  # type: ignore[union-attr]
    assert copper.evidence == "", "how thick it is stated to be is no document"
    assert steel.value.text == "0.0250 in"  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("rest", "message"),
    [
        ("", "1:1 `products` is missing | add a section `products:`"),
        ("products:", "2:10 `products`: nothing stands where products are wanted"),
        ("products: []", "2:11 `products`: an empty list stands where products are wanted"),
        ("products: [x]", "2:12 `x` stands where a product is wanted"),
        ("prodcts: []", "2:1 unknown key `prodcts` | did you mean `products`?"),
        ("products: [{name: a}]", "2:12 `role` is missing"),
        (
            "products: [{role: barier, name: a}]",
            "2:19 `barier` is not a known role | did you mean `barrier`?",
        ),
        ("products: [{role: lath}]", "2:12 a product needs a name"),
        ('products: [{role: lath, name: ""}]', "2:31 a product needs a name"),
        (
            "products: [{role: lath, name: a, wieght: 3}]",
            "2:34 unknown key `wieght` | did you mean `weight`?",
        ),
        (
            "products: [{role: lath, name: a, weight: {valu: 3}}]",
            "2:43 unknown key `valu` | did you mean `value`?",
        ),
        (
            "products: [{role: lath, name: a, weight: {value: 40 oz/ft2, method: [a]}}]",
            "2:69 `method` is no text",
        ),
        (
            "products: [{role: barrier, name: a, planned_exposure: 3 days}]",
            "2:37 `planned_exposure` is a fact of the project",
        ),
        ("products: [{role: lath, name: a, parapets: P-1}]", "2:44 `parapets` is no list of names"),
    ],
)
def test_a_mistake(rest: str, message: str, problems_of_submittal: Callable[[str], list[str]]) -> None:
    (found,) = problems_of_submittal(HEAD + rest)
    assert found.startswith(message)


@pytest.mark.parametrize(
    ("product", "name", "place", "why"),
    [
        ("{role: lath, name: a, kind: x}", "kind", "2:40", "`x` is not a known kind"),
        ("{role: lath, name: a, kind: {value: x}}", "kind", "2:48", "`x` is not a known kind"),
        ("{role: lath, name: a, weight: 3}", "weight", "2:42", "`weight`: `3` has no unit"),
        ("{role: lath, name: a, weight: {value: 3, at most: 4 psf}}", "weight", "2:62", "a bound beside it"),
        ("{role: coping, name: a, thickness: 24 ga}", "thickness", "2:47", "means nothing without its metal"),
        ("{role: coping, name: a, metal: copper, thickness: 99999 oz/ft2}", "thickness", "2:62", "cannot be"),
    ],
)
def test_a_value_that_cannot_be_read_costs_its_own_row(
    product: str, name: str, place: str, why: str, submit: Callable[[str], Submission]
) -> None:
    """One untidy value of forty products stopped the review of all of them."""
    found = submit(HEAD + f"products: [{product}]").products[0]
    given = found.unreadable[name]
    assert name not in found.claims and why in given.why and str(given.mark).endswith(f"{place}")
    assert given.seen and given.fix


def test_the_document_of_a_product_is_that_of_each_value_without_one(
    submit: Callable[[str], Submission],
) -> None:
    line = "{role: lath, name: a, maker: Maker A, evidence: data sheet 7, weight: 40 oz/ft2, color: x}"
    line = line.replace(", color: x", ", side_lap: {value: 1 in, evidence: drawing 3}")
    (found,) = submit(HEAD + f"products: [{line}]").products
    assert (found.claims["weight"].evidence, found.claims["side_lap"].evidence) == (
        "data sheet 7",
        "drawing 3",
    )
    assert found.maker == "Maker A"


def test_a_list_and_a_head_that_is_a_word(problems_of_submittal: Callable[[str], list[str]]) -> None:
    assert problems_of_submittal("[1]") == [
        "1:1 the file holds a list, not a submittal file | start with a line `submittal:`"
    ]
    (found,) = problems_of_submittal("submittal: 4\nproducts: [{role: lath, name: a}]")
    assert found.startswith("1:12 submittal: `4` stands where `key: value` lines are wanted")


def test_too_many_products(problems_of_submittal: Callable[[str], list[str]]) -> None:
    (found,) = problems_of_submittal(HEAD + "products:\n" + "  - {role: lath, name: a}\n" * 501)
    assert "501 products, at most 500 | split the file" in found
