"""Where a shop's log may be: on a disk of this computer that nobody else copies."""

from pathlib import Path

import pytest

from webapp.command import main
from webapp.network import data_folder
from webapp.network.data_folder import BadPlace, must_be_local, sync_folder, type_at, usual_folder

MOUNTS = "\n".join(
    [
        "/dev/sda1 / ext4 rw 0 0",
        "server:/shop /mnt/shop nfs4 rw 0 0",
        "//server/shop /mnt/with\\040blank cifs rw 0 0",
        "/dev/sdb1 /mnt/shop/disk ext4 rw 0 0",
        "shared /media/sf_shop vboxsf rw 0 0",
        "C:\\134 /mnt/c 9p rw 0 0",
        "odd",
    ]
)
MACS = "\n".join(
    [
        "/dev/disk3s1 on / (apfs, sealed, local)",
        "//lead@server/shop on /Volumes/shop (smbfs, nodev, nosuid)",
    ]
)


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("/srv/axlewright", "ext4"),
        ("/mnt/shop", "nfs4"),
        ("/mnt/shop/log", "nfs4"),
        ("/mnt/with blank/log", "cifs"),
        ("/mnt/shop/disk/log", "ext4"),
        ("/mnt/shopping", "ext4"),
    ],
)
def test_f49_the_disk_of_a_folder_is_the_nearest_mount(folder, kind):
    assert type_at(Path(folder), data_folder.linux_mounts(MOUNTS)) == kind


def test_f49_a_macs_network_drive_is_known():
    mounts = data_folder.macs_mounts(MACS)

    assert type_at(Path("/Volumes/shop/log"), mounts) == "smbfs"
    assert type_at(Path("/Users/lead"), mounts) == "apfs"


def test_f49_a_folder_on_a_network_drive_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(data_folder, "is_remote", lambda folder: True)
    with pytest.raises(BadPlace, match="on a network drive"):
        must_be_local(tmp_path)


@pytest.mark.parametrize(
    "name", ["Dropbox", "OneDrive", "OneDrive - Some Shop", "Nextcloud", "Google Drive"]
)
def test_f49_a_folder_that_a_cloud_service_copies_is_refused(tmp_path, name):
    with pytest.raises(BadPlace, match="cloud service syncs"):
        must_be_local(tmp_path / name / "axlewright")


@pytest.mark.parametrize("folder", ["/media/sf_shop/log", "/mnt/c/shop"])
def test_f49_what_a_virtual_computers_host_shares_is_no_disk_of_it(folder):
    assert type_at(Path(folder), data_folder.linux_mounts(MOUNTS)) in data_folder.NETWORK_TYPES


@pytest.mark.parametrize("name", ["Box", "MEGA", "Sync"])
def test_f49_a_plain_word_is_a_cloud_folder_only_where_the_service_puts_it(
    tmp_path, monkeypatch, name
):
    for variable in ("HOME", "USERPROFILE"):
        monkeypatch.setenv(variable, str(tmp_path))

    assert sync_folder(tmp_path / name / "shop") == tmp_path / name
    for ordinary in (tmp_path / name.lower(), tmp_path / "tools" / name, Path("/srv") / name):
        assert sync_folder(ordinary / "shop") is None


@pytest.mark.parametrize(
    "command",
    [
        ["restore", "backup.db", "--data"],
        ["import", "shop.zip", "--data"],
        ["demo", "--data"],
    ],
)
def test_f49_no_command_makes_a_log_where_none_may_be(tmp_path, capsys, command):
    assert main([*command, str(tmp_path / "Dropbox" / "shop")]) == 1

    assert "a cloud service syncs" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("mark", [".dropbox", ".stfolder"])
def test_f49_a_synchronized_folder_is_known_by_what_is_in_it(tmp_path, mark):
    (tmp_path / mark).mkdir()

    assert sync_folder(tmp_path / "shop") == tmp_path


def test_f49_a_folder_of_this_computer_is_taken(tmp_path):
    must_be_local(tmp_path / "axlewright")

    assert sync_folder(tmp_path / "Boxes" / "shop") is None


@pytest.mark.parametrize("platform", ["linux", "darwin", "win32"])
def test_f49_the_usual_folder_is_the_platforms_own_place(platform):
    folder = usual_folder(platform, {"LOCALAPPDATA": "/local", "XDG_DATA_HOME": "/data"})

    assert folder.name.lower() == "axlewright"
    assert folder.is_absolute()
