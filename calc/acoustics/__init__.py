"""Sound in the room: modes, proportions, reverberation, treatment, where things stand."""

from calc.acoustics.layout import Opening
from calc.acoustics.rules import findings
from calc.acoustics.sound import RoomSound, room_sound

__all__ = ["Opening", "RoomSound", "findings", "room_sound"]
