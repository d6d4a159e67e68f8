# SPDX-License-Identifier: Apache-2.0
"""What every answer carries, and that no request whatever makes the server fail."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import msgspec
import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from schemathesis import GenerationMode
from schemathesis.openapi import from_wsgi

from tallywright.errors import TallywrightError
from tallywright.web import door
from tallywright.web.description import describe
from tests import node
from tests.actors import LINES, Works

ADDRESSES = ["/", "/api/v1/works", "/api/v1/batches", "/api/v1/nothing", "/nothing.js"]


@pytest.mark.parametrize("address", ADDRESSES)
def test_every_answer_carries_the_head_lines(works: Works, address: str) -> None:
    answer = works.client().get(address, buffered=True)
    for name, value in door.HEADERS.items():
        assert answer.headers[name] == value
    assert "unsafe" not in answer.headers["Content-Security-Policy"]
    assert answer.headers["Strict-Transport-Security"]


def test_data_is_never_kept_by_a_cache(works: Works) -> None:
    assert works.client().get("/api/v1/works").headers["Cache-Control"] == "no-store"


@pytest.mark.parametrize("address", ["/api/v1/nothing", "/assets/gone.js", "/../server.key", "/nothing"])
def test_hazard_b4_what_is_not_there_is_404_and_says_so_in_our_shape(works: Works, address: str) -> None:
    answer = works.client().get(address, buffered=True)
    assert answer.status_code == 404
    assert (answer.json["marker"], answer.json["code"]) == ("tallywright", "not-found")


def test_a_wrong_method_names_the_right_ones(works: Works) -> None:
    answer = works.client().put("/api/v1/sync/push", data=b"", content_type="application/json")
    assert answer.status_code == 405
    assert "POST" in answer.headers["Allow"]


def test_a_failure_tells_nothing_of_the_inside(works: Works, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("secret inside")

    monkeypatch.setattr("tallywright.web.works_api.works", fail)
    answer = works.client().get("/api/v1/works")
    assert (answer.status_code, answer.json["code"], answer.json["retry"]) == (500, "error", True)
    assert "secret" not in answer.text


def all_errors(base: type[TallywrightError]) -> list[type[TallywrightError]]:
    return [base, *(error for child in base.__subclasses__() for error in all_errors(child))]


def test_every_error_has_its_line_in_the_tree_and_a_code_of_its_own() -> None:
    import tallywright.errors

    tree = tallywright.errors.__doc__ or ""
    leaves = [error for error in all_errors(TallywrightError) if not error.__subclasses__()]
    assert all(error.__name__ in tree and error.code in tree for error in leaves)
    assert len({error.code for error in leaves}) == len(leaves)


def test_the_description_names_every_route(works: Works) -> None:
    described = works.client().get("/api/v1/openapi.json").json["paths"]
    rules = [rule.rule for rule in works.app.url_map.iter_rules()]
    routes = {rule.replace("<", "{").replace(">", "}") for rule in rules if rule.startswith(("/api/", "/health"))}
    assert set(described) == routes - {"/api/v1/openapi.json"}


@schemathesis.serializer(LINES)
def as_lines(_context: object, value: object) -> bytes:
    """A push is text of lines: whatever was thought up is sent as it is."""
    return str(value).encode("utf-8", "surrogatepass")


@pytest.mark.parametrize("enrolled", [False, True])
def test_no_request_that_the_description_allows_or_forbids_makes_the_server_fail(
    works: Works, enrolled: bool
) -> None:
    schema = from_wsgi("/api/v1/openapi.json", works.app)
    strategies = [
        operation.ok().as_strategy(generation_mode=mode)
        for operation in schema.get_all_operations()
        for mode in (GenerationMode.POSITIVE, GenerationMode.NEGATIVE)
    ]
    cookie = {}
    if enrolled:
        stored = works.tablet().client.get_cookie("__Host-tallywright", domain="localhost")
        assert stored is not None
        cookie = {"Cookie": f"__Host-tallywright={stored.value}"}

    @settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
    def check(case: Any) -> None:
        answer = case.call(headers=cookie)
        assert answer.status_code < 500, answer.text

    from hypothesis import given

    given(case=st.one_of(strategies))(check)()


@pytest.mark.node
def test_the_committed_answer_types_are_generated_from_these_schemas(tmp_path: Path) -> None:
    node.install()
    document = tmp_path / "api.json"
    document.write_bytes(msgspec.json.format(msgspec.json.encode(describe(), order="sorted"), indent=1))
    words = [
        "node_modules/openapi-typescript/bin/cli.js",
        str(document),
        "--output",
        str(tmp_path / "described.ts"),
    ]
    node.run(words, folder=node.STATIC)
    assert (node.STATIC / "src" / "api" / "described.ts").read_text() == (tmp_path / "described.ts").read_text()
