"""Where a shop's data folder is, and where it must not be.

SQLite needs a disk whose locks can be relied on (sqlite.org/useovernet.html), and a program that
copies files to a cloud tears a log that is being written.
"""

import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

NETWORK_TYPES = {
    # Folders that the host of a virtual computer, or of a Linux within Windows, shares with it.
    *("9p", "fuse.vmhgfs-fuse", "prl_fs", "vboxsf", "vmhgfs"),
    *("afpfs", "afs", "beegfs", "ceph", "cifs", "davfs", "fuse.glusterfs", "fuse.rclone"),
    *("fuse.s3fs", "fuse.sshfs", "glusterfs", "lustre", "ncpfs", "nfs", "nfs4", "smb3", "smbfs"),
    *("webdav",),
}
SYNC_NAMES = {
    *("box sync", "cloudstorage", "creative cloud files", "dropbox", "google drive"),
    *("googledrive", "icloud drive", "iclouddrive", "megasync", "mobile documents"),
    *("my drive", "nextcloud", "onedrive", "owncloud", "pcloud drive", "pclouddrive", "seafile"),
    *("syncthing",),
}
# Words that any folder may be called by: meant only as the services write them, in the home folder.
SYNC_NAMES_AT_HOME = {"Box", "MEGA", "Sync"}
SYNC_MARKS = (".dropbox", ".megaignore", ".owncloudsync.log", ".stfolder", ".sync")
REMOTE_DRIVE = 4  # DRIVE_REMOTE of GetDriveTypeW


class BadPlace(Exception):
    """Why a folder cannot hold a shop's log, in one sentence."""


def usual_folder(platform: str = sys.platform, known: Mapping[str, str] = os.environ) -> Path:
    """The platform's own place for an application's data, and in it the shop's folder."""
    home = Path.home()
    if platform == "win32":
        return Path(known.get("LOCALAPPDATA") or home / "AppData" / "Local") / "Axlewright"
    if platform == "darwin":
        return home / "Library" / "Application Support" / "Axlewright"
    return Path(known.get("XDG_DATA_HOME") or home / ".local" / "share") / "axlewright"


def must_be_local(folder: Path) -> None:
    """Nothing when the folder is on a disk of this computer and nobody's copy; else BadPlace."""
    whole = folder.expanduser().resolve()
    if is_remote(whole):
        raise BadPlace(
            f"{folder} is on a network drive, or shared by the host of this virtual machine. The "
            "shop's log must be on a disk in this computer: choose another folder with --data. "
            "Backups may go there."
        )
    synced = sync_folder(whole)
    if synced is not None:
        raise BadPlace(
            f"{folder} is inside {synced}, which a cloud service syncs. That would damage "
            "the shop's log: choose another folder with --data."
        )


def sync_folder(folder: Path) -> Path | None:
    """The folder above, or this one, that a cloud service copies; None where there is none."""
    # Where a service's user has no home, this stays `~` and is found nowhere.
    home = Path(os.path.expanduser("~")).resolve()
    for each in [folder, *folder.parents]:
        name = each.name.lower()
        # Shops' accounts are called `OneDrive - Some Shop`.
        if name in SYNC_NAMES or name.partition(" - ")[0] in {"onedrive", "dropbox"}:
            return each
        if each.parent == home and each.name in SYNC_NAMES_AT_HOME:
            return each
        if any((each / mark).exists() for mark in SYNC_MARKS):
            return each
    return None


def is_remote(folder: Path) -> bool:
    """Whether the folder is on another computer's disk."""
    if sys.platform == "win32":
        return is_remote_on_windows(folder)
    table = macs_mounts() if sys.platform == "darwin" else linux_mounts()
    return type_at(folder, table) in NETWORK_TYPES


def is_remote_on_windows(folder: Path) -> bool:
    """Whether the folder is a UNC path or on a mapped drive."""
    if str(folder).startswith("\\\\"):
        return True
    import ctypes

    kind = ctypes.windll.kernel32.GetDriveTypeW(folder.anchor)  # type: ignore[attr-defined]
    return bool(kind == REMOTE_DRIVE)


def linux_mounts(text: str | None = None) -> dict[str, str]:
    """The type of file system by mount point, from proc(5)'s table of mounts."""
    mounts = Path("/proc/self/mounts")
    if text is None:
        text = mounts.read_text("utf-8", "replace") if mounts.exists() else ""
    rows = [line.split() for line in text.splitlines()]
    return {row[1].encode().decode("unicode_escape"): row[2] for row in rows if len(row) > 2}


def macs_mounts(text: str | None = None) -> dict[str, str]:
    """The same from mount(8): `//host/share on /Volumes/share (smbfs, nodev)`."""
    if text is None:
        text = subprocess.run(["/sbin/mount"], capture_output=True, text=True, check=False).stdout
    found = {}
    for line in text.splitlines():
        place, _, kind = line.partition(" on ")[2].rpartition(" (")
        found[place] = kind.split(",")[0].rstrip(")")
    return found


def type_at(folder: Path, mounts: Mapping[str, str]) -> str | None:
    """The type of the file system that a folder is on, or will be."""
    for each in [folder, *folder.parents]:
        if str(each) in mounts:
            return mounts[str(each)]
    return None
