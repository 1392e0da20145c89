"""Accounts, sessions, devices and pairing codes as an archive keeps them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from sqlalchemy import select

from bankside.archive.accounts import (
    accounts,
    add_account,
    remove_account,
    set_password,
    who_signs_in,
)
from bankside.archive.archive import Archive, open_archive
from bankside.archive.backup import backup, restore
from bankside.archive.devices import device_of, devices, make_code, pair, revoke
from bankside.archive.roles import may
from bankside.archive.sessions import end_session, open_session, signed_in
from bankside.archive.settings import lineage
from bankside.archive.tables import accounts as account_table
from bankside.archive.tables import devices as device_table
from bankside.archive.tables import pairing_codes, sessions
from bankside.archive.trouble import ArchiveTrouble

PASSWORD = "a long walk upstream"


def test_somebody_signs_in_with_the_right_password_only(archive: Archive) -> None:
    """A wrong password, another name and another spelling of the password let nobody in."""
    with archive.writing() as connection:
        add_account(connection, "Ada Brook", "lead", PASSWORD)

    with archive.reading() as connection:
        found = who_signs_in(connection, "Ada  Brook ", PASSWORD)
        assert found is not None and (found.name, found.role) == ("Ada Brook", "lead")
        assert who_signs_in(connection, "Ada Brook", PASSWORD.upper()) is None
        assert who_signs_in(connection, "Ada", PASSWORD) is None
        kept = connection.execute(select(account_table.c.password)).scalar_one()
    assert kept.startswith("$argon2id$")


def test_an_account_is_made_once_and_with_a_password_that_is_long_enough(archive: Archive) -> None:
    """A name stands for one person; short passwords and blank names are refused in a sentence."""
    with archive.writing() as connection:
        add_account(connection, "Ada Brook", "lead", PASSWORD)

    for name, password, said in (
        ("Ada Brook", PASSWORD, "There is an account Ada Brook already"),
        ("Ben Ford", "short", "10 characters or more"),
        ("  ", PASSWORD, "A name has 1 to 100 characters"),
        ("Ben\x07Ford", PASSWORD, "that can be seen"),
    ):
        with pytest.raises(ArchiveTrouble, match=said), archive.writing() as connection:
            add_account(connection, name, "crew", password)
    with archive.reading() as connection:
        assert [account.name for account in accounts(connection)] == ["Ada Brook"]


def test_a_token_ends_with_its_time_its_sign_out_its_password_and_its_account(
    archive: Archive,
) -> None:
    """Nobody stays signed in longer than is said, and nobody after being removed."""
    with archive.writing() as connection:
        ada = add_account(connection, "Ada Brook", "lead", PASSWORD)
        old, _ = open_session(connection, ada, hours=-1)
        left, _ = open_session(connection, ada)
        end_session(connection, left)
        stays, until = open_session(connection, ada)

    with archive.reading() as connection:
        assert [signed_in(connection, token) for token in (old, left, "nonsense", "")] == [None] * 4
        found = signed_in(connection, stays)
        assert found is not None and found.name == "Ada Brook" and until > ada.made_at
        assert stays not in str(connection.execute(select(sessions)).all())
    with archive.writing() as connection:
        set_password(connection, "Ada Brook", PASSWORD + "!")
        assert signed_in(connection, stays) is None
        again, _ = open_session(connection, ada)
        assert signed_in(connection, again) is not None
        remove_account(connection, "Ada Brook")
        assert signed_in(connection, again) is None
    with pytest.raises(ArchiveTrouble, match="no account Ada"), archive.writing() as connection:
        remove_account(connection, "Ada Brook")


def test_a_code_pairs_one_device_and_no_second(archive: Archive) -> None:
    """A code that somebody else has read over a shoulder is worth nothing once it was used."""
    with archive.writing() as connection:
        code = make_code(connection, "Ada Brook")
        late = make_code(connection, "Ada Brook", minutes=-1)
        typed = f"{code.code[:4].lower()}-{code.code[4:]} "
        paired = pair(connection, typed, "dev-1", "Ada's phone")

    assert paired is not None
    token, device = paired
    assert (device.device, device.name, device.role) == ("dev-1", "Ada's phone", "crew")
    with archive.writing() as connection:
        assert pair(connection, code.code, "dev-2", "another") is None
        assert pair(connection, late.code, "dev-2", "another") is None
        assert pair(connection, "", "dev-2", "another") is None
        assert device_of(connection, token) == device
        assert device_of(connection, code.code) is None
        kept = str(connection.execute(select(device_table)).all())
        kept += str(connection.execute(select(pairing_codes)).all())
    assert token not in kept and code.code not in kept


def test_a_revoked_device_is_known_and_lets_nobody_in(archive: Archive) -> None:
    """A phone that was lost stays on the list with its last day, and its token is void."""
    with archive.writing() as connection:
        code = make_code(connection, "Ada Brook", name="Truck tablet", role="reviewer")
        paired = pair(connection, code.code, "dev-1", "a phone")
        assert paired is not None
        token, device = paired
        assert (device.name, device.role) == ("Truck tablet", "reviewer")
        revoke(connection, device.id)

    with archive.reading() as connection:
        assert device_of(connection, token) is None
        (found,) = devices(connection)
        assert found.revoked_at is not None
    with pytest.raises(ArchiveTrouble, match="no device"), archive.writing() as connection:
        revoke(connection, "nothing")


def test_each_role_may_what_the_one_before_it_may() -> None:
    """Crew, reviewer, lead, in this order."""
    assert may("lead", "crew") and may("lead", "reviewer") and may("crew", "crew")
    assert not may("crew", "reviewer") and not may("reviewer", "lead")


def test_a_backup_goes_on_in_a_line_of_its_own(
    archive: Archive, make_archive: Callable[[], Archive], tmp_path: Path
) -> None:
    """Devices learn that an archive was put back, and hand in again what it may have lost."""
    with archive.writing() as connection:
        add_account(connection, "Ada Brook", "lead", PASSWORD)
    backup(archive, tmp_path / "backup.db")
    filled = make_archive()
    restore(tmp_path / "backup.db", filled)

    lines = []
    with open_archive(tmp_path / "backup.db") as copy:
        for one in (archive, copy, filled):
            with one.reading() as connection:
                lines.append(lineage(connection))
                assert who_signs_in(connection, "Ada Brook", PASSWORD) is not None
    assert len(set(lines)) == 3
    with pytest.raises(ArchiveTrouble, match="not empty"):
        restore(tmp_path / "backup.db", filled)
