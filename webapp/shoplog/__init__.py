"""The shop log: entries, vehicles, jobs, people and phones; the only place that knows SQLite."""

from webapp.shoplog.errors import (
    BadBackup,
    LogBusy,
    LogDamaged,
    LogError,
    LogFull,
    LogInUse,
    LogShut,
    LogTooNew,
    NotFound,
    OtherPerson,
)
from webapp.shoplog.log import Answer, ShopLog

__all__ = [
    "Answer",
    "BadBackup",
    "LogBusy",
    "LogDamaged",
    "LogError",
    "LogFull",
    "LogInUse",
    "LogShut",
    "LogTooNew",
    "NotFound",
    "OtherPerson",
    "ShopLog",
]
