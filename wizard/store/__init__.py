"""Saved interviews: one folder each in the user's data folder, written so that a crash at any moment loses nothing.

    <data>/interviews/<id>/answers.toml     the answers; written beside, flushed, renamed
    <data>/interviews/<id>/steps.json       what undo and redo need
    <data>/interviews/<id>/history/N.toml   the last ten versions before it
    <data>/interviews/<id>/damaged/N.toml   files that could not be read, set aside
    <data>/interviews/<id>/later/N.toml     files of a later version of Stillroom, set aside
    <data>/interviews/<id>/open, lock     held while an interview is open, and while it is written
    <data>/trash/<id>                       deleted interviews

An id is a slug of the first name and a random end; a name never becomes a path.
"""

from wizard.store.disk import Disk
from wizard.store.errors import StoreError
from wizard.store.files import HISTORY
from wizard.store.steps import Step, Steps
from wizard.store.store import Entry, Saved, Store, default_folder

__all__ = ["HISTORY", "Disk", "Entry", "Saved", "Step", "Steps", "Store", "StoreError", "default_folder"]
