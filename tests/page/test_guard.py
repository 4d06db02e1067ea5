"""Who may ask the page: the attack list of requests that a browser or a program of this machine could send."""

from __future__ import annotations

import pytest

from tests.page.conftest import PORT, Open

OWN = f"http://127.0.0.1:{PORT}"


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        f"evil.example:{PORT}",
        "127.0.0.1",
        f"127.0.0.1:{PORT + 1}",
        f"127.0.0.2:{PORT}",
        "[::1]",
        "",
    ],
)
def test_another_host_is_refused_so_that_a_rebound_name_reads_nothing(opened: Open, host: str) -> None:
    page = opened()
    found = page.get("steps", headers={"Host": host})
    assert found.status_code == 403 and "Quarry" not in found.text


def test_localhost_is_the_same_machine(opened: Open) -> None:
    assert opened().get("steps", headers={"Host": f"localhost:{PORT}"}).status_code == 200


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", f"https://127.0.0.1:{PORT}", f"{OWN}.evil.example"]
)
def test_a_form_of_another_page_is_refused(opened: Open, origin: str) -> None:
    page = opened()
    found = page.post("person", {"person": "Mallory"}, headers={"Origin": origin})
    assert found.status_code == 403 and page.desk.person == "A. Reviewer"


@pytest.mark.parametrize(
    "headers",
    [{"Origin": ""}, {"Origin": "", "Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"}],
)
def test_a_form_that_does_not_say_where_it_comes_from_is_refused(
    opened: Open, headers: dict[str, str]
) -> None:
    page = opened()
    assert page.post("person", {"person": "Mallory"}, headers=headers).status_code == 403
    assert page.desk.person == "A. Reviewer"


def test_a_link_on_another_site_leads_nowhere(opened: Open) -> None:
    page = opened()
    assert page.get("steps", headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403
    assert page.get("steps", headers={"Sec-Fetch-Site": "none"}).status_code == 200


def test_without_the_secret_there_is_nothing(opened: Open) -> None:
    page = opened()
    for path in (
        "/",
        "/steps",
        f"/{page.door.token[:-1]}/steps",
        f"/{page.door.token}x/steps",
        "//steps",
        "/still/page.css",
    ):
        found = page.client.get(path)
        assert found.status_code == 404 and "Quarry" not in found.text, path
    assert len(page.door.token) >= 32
    assert page.door.token not in repr(page.door)


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT"])
def test_only_get_and_post_are_spoken(opened: Open, method: str) -> None:
    page = opened()
    found = page.client.request(method, f"/{page.door.token}/steps", headers={"Origin": OWN})
    assert found.status_code == 405


@pytest.mark.parametrize(
    "name",
    [
        "..%2f..%2fpyproject.toml",
        "%2e%2e/%2e%2e/pyproject.toml",
        "....//page.css",
        "page.css%00.html",
        "/etc/passwd",
    ],
)
def test_no_file_outside_the_still_ones_is_served(opened: Open, name: str) -> None:
    found = opened().get(f"still/{name}")
    assert found.status_code in (400, 404) and "hatchling" not in found.text and "root:" not in found.text


def test_every_answer_bears_the_policies(opened: Open) -> None:
    page = opened()
    token = page.door.token
    for found in (page.get("steps"), page.get("still/page.css"), page.get("no-such"), page.client.get("/")):
        policy = found.headers["content-security-policy"]
        assert (
            "default-src 'none'" in policy and "unsafe" not in policy and "frame-ancestors 'none'" in policy
        )
        assert found.headers["x-content-type-options"] == "nosniff"
        assert found.headers["referrer-policy"] == "same-origin"
        assert "set-cookie" not in found.headers and "access-control-allow-origin" not in found.headers
    assert token not in page.get("steps").headers.values()


def test_no_view_holds_script_or_style_of_its_own(opened: Open) -> None:
    words = opened().get("steps").text
    assert "<style" not in words and " style=" not in words and " onclick" not in words
    assert words.count("<script") == words.count('<script src="/')


def test_more_than_a_form_may_hold_is_not_read(opened: Open) -> None:
    page = opened()
    found = page.post("person", {"person": "x" * 1_100_000})
    assert found.status_code == 413 and page.desk.person == "A. Reviewer"
    lying = page.post("person", {"person": "Mallory"}, headers={"Content-Length": "99999999999"})
    assert lying.status_code == 413
    for announced in (b"\xb2", b"9" * 5_000):
        odd = page.post("person", {"person": "Mallory"}, headers={"Content-Length": announced})
        assert odd.status_code == 413


def test_a_name_of_a_thousand_letters_or_none_that_prints_is_refused(opened: Open) -> None:
    page = opened()
    for name in ("x" * 200, "a\x00b", "a\u202eb"):
        assert page.post("person", {"person": name}).status_code == 422
    assert page.desk.person == "A. Reviewer"
    assert page.post("person", {"person": "<script>alert(1)</script>"}).status_code == 303
    assert "<script>alert" not in page.get("steps").text and "&lt;script&gt;alert" in page.get("steps").text


def test_where_to_go_back_to_is_a_view_of_the_page_alone(opened: Open) -> None:
    page = opened()
    page.desk.change(lambda text: text.replace("units: inch-pound", "units: SI"), "units")
    for here in (
        "//evil.example",
        "https://evil.example/",
        "\\\\evil.example",
        "javascript:alert(1)",
        "../../x",
    ):
        found = page.post("undo", {"here": here})
        assert found.headers["location"].startswith(f"/{page.door.token}/")
        page.post("redo", {})
