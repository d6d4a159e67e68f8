# SPDX-License-Identifier: Apache-2.0
"""Tablets of a network: one that trusts the authority, one whose server's certificate ran out, one told nothing.

The browser's trust is real: the authority stands in the NSS database of its HOME, and no switch makes it look away.
"""

from __future__ import annotations

import os
import re
import ssl
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat, load_pem_private_key
from playwright.sync_api import Browser, BrowserContext, Error, Page, Playwright, expect

from tallywright.clock import SystemClock
from tallywright.trust.certificates import A_DAY, Signed, fingerprint, make_server_certificate
from tallywright.trust.kept import AuthorityFolder, read_certificate
from tallywright.trust.names import Names, names_from
from tests.browser import launch_options
from tests.hands import Hands
from tests.nss import trust
from tests.served import Served, free_port

pytestmark = pytest.mark.browser

NAME = "works.test"  # RFC 2606: nobody has it
BY = names_from([NAME, "127.0.0.1", "127.0.0.2"])
SECURE = "isSecureContext"
HAS_WORKER = "async () => (await navigator.serviceWorker.ready).active.scriptURL"


@pytest.fixture
def folder(tmp_path: Path) -> AuthorityFolder:
    """The authority of the works, before its server was started."""
    made = AuthorityFolder(tmp_path / "works" / "authority", SystemClock())
    made.keep(BY)
    return made


@dataclass
class Machine:
    """A tablet's browser, which can be closed in the evening and opened in the morning."""

    playwright: Playwright
    home: Path
    context: BrowserContext | None = None

    def open(self) -> BrowserContext:
        """Start the browser anew on its own profile; it finds the works by name."""
        self.close()
        options = launch_options(self.playwright)
        self.context = self.playwright.chromium.launch_persistent_context(
            self.home / "profile",
            **{**options, "env": {**options.get("env", os.environ), "HOME": str(self.home)}},
            args=[f"--host-resolver-rules=MAP {NAME} 127.0.0.1"],
            viewport={"width": 1280, "height": 800},
            has_touch=True,
            locale="en",
        )
        return self.context

    def close(self) -> None:
        """End the browser."""
        if self.context is not None:
            self.context.close()
        self.context = None


@pytest.fixture
def machine(playwright: Playwright, folder: AuthorityFolder, tmp_path: Path) -> Iterator[Machine]:
    """A tablet that trusts the authority."""
    made = Machine(playwright, tmp_path / "home")
    trust(made.home, folder.authority_file, launch_options(playwright).get("env", dict(os.environ)))
    yield made
    made.close()


@pytest.fixture
def tablet(machine: Machine) -> BrowserContext:
    """Its browser."""
    return machine.open()


@pytest.fixture
def stranger(playwright: Playwright) -> Iterator[Browser]:
    """A browser that was told nothing, and finds the works by name."""
    options = launch_options(playwright)
    opened = playwright.chromium.launch(**options, args=[f"--host-resolver-rules=MAP {NAME} 127.0.0.1"])
    yield opened
    opened.close()


def over_tls(folder: AuthorityFolder, *options: str) -> Served:
    listening = ("--host", "127.0.0.1", "--host", "127.0.0.2", "--also", NAME, "--trust-port", str(free_port()))
    return Served(
        folder.folder.parent, free_port(), options=(*listening, *options), trusts=folder.authority_file
    )  # fmt: skip


@pytest.fixture
def served(folder: AuthorityFolder) -> Iterator[Served]:
    """A demo works over HTTPS, with a certificate of the authority."""
    server = over_tls(folder, "--tls")
    server.start()
    yield server
    server.stop()


def trust_page(served: Served, host: str = "127.0.0.1") -> str:
    return f"http://{host}:{served.options[served.options.index('--trust-port') + 1]}/"


@pytest.mark.parametrize("host", ["127.0.0.2", NAME])
def test_a_tablet_that_trusts_the_authority_enrols_and_works_without_network(
    served: Served, tablet: BrowserContext, folder: AuthorityFolder, host: str
) -> None:
    hands = Hands.at(tablet, f"https://{host}:{served.port}")
    assert hands.page.evaluate(SECURE)
    hands.enrol()
    hands.sign_on()
    hands.take_up()
    hands.begin_tray(1)
    hands.find("Lap")
    assert hands.page.evaluate(HAS_WORKER) == f"https://{host}:{served.port}/service_worker.js"
    hands.wait_until_confirmed()

    served.stop()
    hands.page.reload()
    expect(hands.page.get_by_label("Defect keys")).to_be_visible()
    hands.find("Burn")
    expect(hands.page.get_by_text("1 stored here")).to_be_visible()

    folder.server_file.unlink()  # the next look makes another certificate, as it does near the end of one
    served.start()
    assert served.process is not None
    hands.wait_until_confirmed(timeout_ms=80_000)
    assert len([line for line in hands.journal() if '"defect_tallied"' in line]) == 2


def test_a_renewed_certificate_is_shown_by_the_running_server(
    served: Served, tablet: BrowserContext, folder: AuthorityFolder
) -> None:
    before = ssl.get_server_certificate(("127.0.0.1", served.port))
    process = served.process
    hands = Hands.at(tablet, served.address)
    hands.enrol()
    hands.sign_on()
    put(folder, lasts=timedelta(days=200))
    assert ssl.get_server_certificate(("127.0.0.1", served.port)) != before
    hands.take_up()
    hands.begin_tray(1)
    hands.find("Lap")
    hands.wait_until_confirmed()
    assert served.process is process is not None
    assert process.is_there()


def put(folder: AuthorityFolder, lasts: timedelta, names: Names = BY) -> None:
    """Put another certificate of the same authority in the server's place."""
    key = load_pem_private_key(folder.authority_key.read_bytes(), password=None)
    authority = Signed(read_certificate(folder.authority_file), key)  # type: ignore[arg-type]  # of an elliptic curve
    begins = datetime.now(UTC).replace(microsecond=0) + lasts - 396 * A_DAY
    made = make_server_certificate(authority, names, begins)
    text = made.key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    part = folder.folder / "part"
    part.write_bytes(text + made.certificate.public_bytes(Encoding.PEM))
    part.replace(folder.server_file)


def test_a_tablet_whose_servers_certificate_ran_out_goes_on_recording_and_sends_later(
    folder: AuthorityFolder, machine: Machine
) -> None:
    # Files of the works' own: nobody renews them but the works.
    own = ("--certificate", str(folder.server_file), "--key", str(folder.server_file))
    served = over_tls(folder, *own)
    served.start()
    try:
        hands = Hands.at(machine.open(), served.address)
        hands.enrol()
        hands.sign_on("Jonas Falk")
        expect(hands.page.get_by_text("certificate ends on")).to_have_count(0)
        put(folder, lasts=timedelta(days=29))
        expect(hands.page.get_by_text(re.compile("certificate ends on .*: 2[89] days are left"))).to_be_visible()
        hands.picture("tls_certificate_ends")
        hands.hand_over("Ines Brandt")
        hands.take_up()
        expect(hands.page.get_by_text("certificate ends on")).to_have_count(0)
        hands.begin_tray(1)
        hands.find("Lap")
        hands.wait_until_confirmed()

        lasts = timedelta(seconds=40)  # long enough for the tablet to hear of it a few times
        put(folder, lasts)
        hands.page.wait_for_timeout((lasts + timedelta(seconds=2)).total_seconds() * 1000)
        with pytest.raises(ssl.SSLCertVerificationError, match="expired"):
            served.ask()
        # A browser that runs believes for a while what it believed a moment ago; the next morning it does not.
        # The app starts from what the service worker holds, and the tray goes on.
        place = hands.page.url
        page = machine.open().pages[0]
        page.goto(place)
        hands = Hands(page.context, page, served.address)
        expect(page.get_by_label("Defect keys")).to_be_visible()
        expect(page.get_by_text("certificate ended on")).to_be_visible()
        hands.find("Burn")
        hands.picture("tls_certificate_ended")
        page.reload()
        expect(page.get_by_label("Defect keys")).to_be_visible()
        hands.find("Staining")
        expect(page.get_by_text("2 stored here")).to_be_visible()
        expect(page.get_by_text("certificate ended on")).to_be_visible()

        put(folder, lasts=timedelta(days=396))
        hands.wait_until_confirmed()
        expect(page.get_by_text("certificate ended on")).to_have_count(0)
        assert len([line for line in hands.journal() if '"defect_tallied"' in line]) == 3
    finally:
        served.stop()
    assert "The log is whole." in served.run("verify").stdout


def test_a_browser_that_was_told_nothing_does_not_open_the_app(served: Served, stranger: Browser) -> None:
    page = stranger.new_page()
    with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
        page.goto(f"https://{NAME}:{served.port}/")


def test_the_authority_a_tablet_trusts_vouches_for_no_other_name(
    served: Served, tablet: BrowserContext, folder: AuthorityFolder
) -> None:
    # What somebody could do who stole the authority's key, and stands in the way of a bank.
    put(folder, lasts=timedelta(days=200), names=names_from(["bank.example", NAME, "127.0.0.1"]))
    page = tablet.new_page()
    with pytest.raises(Error, match="ERR_CERT"):
        page.goto(f"https://{NAME}:{served.port}/")


@pytest.mark.parametrize(
    ("language", "title", "step"),
    [("en", "Make this device trust the server", "Certificate Trust Settings"),
     ("de", "Diesem Gerät sagen, dass es dem Server vertrauen darf", "Zertifikatsvertrauenseinstellungen")],
)  # fmt: skip
def test_the_plain_page_shows_how_to_trust_and_what_to_compare(
    served: Served, stranger: Browser, folder: AuthorityFolder, language: str, title: str, step: str
) -> None:
    context = stranger.new_context(viewport={"width": 800, "height": 1280}, locale=language, has_touch=True)
    page = context.new_page()
    page.goto(trust_page(served, NAME))
    expect(page.get_by_role("heading", level=1)).to_have_text(title)
    shown = "".join(page.locator(".fingerprint span").all_inner_texts())
    assert shown == fingerprint(read_certificate(folder.authority_file)).replace(":", "")
    with page.expect_download() as download:
        page.locator("a[href='/tallywright-authority.crt']").click()
    der = Path(download.value.path()).read_bytes()
    assert der == ssl.PEM_cert_to_DER_cert(folder.authority_file.read_text())
    page.get_by_role("button", name="iPad").click()
    expect(page.get_by_text(step)).to_be_visible()
    for system in ("Windows", "Android"):
        page.get_by_role("button", name=system).click()
        expect(page.locator("ol li")).to_have_count(5)
    expect(page.get_by_role("link", name=f"https://{NAME}:{served.port}/").first).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    Hands(context, page, "").picture(f"tls_trust_{language}")
    context.close()


@pytest.mark.parametrize(
    ("language", "says"),
    [("en", "Nothing entered here would be kept"), ("de", "Nichts, was hier eingegeben wird, bliebe erhalten")],
)
def test_hazard_e8_the_app_opened_without_protection_says_what_is_wrong_and_the_cure(
    tmp_path: Path, stranger: Browser, language: str, says: str
) -> None:
    # Served over HTTP behind something that serves HTTPS, too: opened past it.
    cures = {"TALLYWRIGHT_ADDRESS": f"https://{NAME}/", "TALLYWRIGHT_TRUST_PAGE": f"http://{NAME}:8080/"}
    plain = Served(tmp_path / "plain", free_port(), settings=cures)
    plain.start()
    context = stranger.new_context(viewport={"width": 1280, "height": 800}, locale=language)
    try:
        page = opened_without_protection(context, plain, says)
        expect(page.get_by_role("link", name=cures["TALLYWRIGHT_ADDRESS"], exact=True)).to_be_visible()
        expect(page.get_by_role("link", name=cures["TALLYWRIGHT_TRUST_PAGE"], exact=True)).to_be_visible()
        expect(page.locator("svg.qr")).to_have_count(2)
        Hands(context, page, "").picture(f"tls_unprotected_{language}")
    finally:
        context.close()
        plain.stop()


def test_where_there_is_no_protected_address_yet_the_app_says_how_to_get_one(
    tmp_path: Path, stranger: Browser
) -> None:
    plain = Served(tmp_path / "plain", free_port())
    plain.start()
    context = stranger.new_context(viewport={"width": 320, "height": 900}, locale="en")
    try:
        page = opened_without_protection(context, plain, "Nothing entered here would be kept")
        expect(page.get_by_text("tallywright serve")).to_be_visible()
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    finally:
        context.close()
        plain.stop()


def opened_without_protection(context: BrowserContext, plain: Served, says: str) -> Page:
    """The app by a name that is not this machine's own, over HTTP; nothing of it fails meanwhile."""
    page = context.new_page()
    problems: list[str] = []
    page.on("pageerror", lambda problem: problems.append(str(problem)))
    page.goto(f"http://{NAME}:{plain.port}/")
    expect(page.get_by_role("alert")).to_contain_text(says)
    assert not page.evaluate(SECURE)
    assert problems == []
    return page
