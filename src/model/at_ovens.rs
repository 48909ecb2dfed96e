//! Who must be where while an oven is open.

/// Where an adult must be whenever an oven's door is open: from what asks for
/// nothing to what asks for most.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum AtOvens {
    /// Nowhere in particular.
    #[default]
    Nobody,
    /// In the room, doing other things too.
    InRoom,
    /// At each open door, doing nothing else.
    AtDoor,
}

impl AtOvens {
    /// Every one, what asks for least first.
    pub const ALL: [AtOvens; 3] = [AtOvens::Nobody, AtOvens::InRoom, AtOvens::AtDoor];

    /// What two rules come to: who stands at a door is in the room.
    pub const fn of(in_room: bool, at_doors: bool) -> Self {
        match (in_room, at_doors) {
            (_, true) => AtOvens::AtDoor,
            (true, false) => AtOvens::InRoom,
            (false, false) => AtOvens::Nobody,
        }
    }

    /// "an adult in the room".
    pub const fn words(self) -> &'static str {
        match self {
            AtOvens::Nobody => "nobody",
            AtOvens::InRoom => "an adult in the room",
            AtOvens::AtDoor => "an adult at each door",
        }
    }
}
