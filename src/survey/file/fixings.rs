//! The tables of what a cutter must not meet: metal, hardware screws, and what holds the sash on the bed.

use super::lengths::{Away, Coordinate};
use super::names::Name;
use crate::geometry::Side;
use crate::input::{Flag, Pair, choice, measures, table};

measures! {
    ClampSize: length 1.0 2000.0;
    ClampHeight: length -200.0 500.0;
    ScrewLength: length 1.0 500.0;
}

/// A member as a screw names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum MemberWord {
    On(Side),
    MeetingRail,
}

choice! {
    MemberName: MemberWord {
        "left stile" | "left" => MemberWord::On(Side::Left);
        "right stile" | "right" => MemberWord::On(Side::Right);
        "bottom rail" | "bottom" => MemberWord::On(Side::Bottom);
        "top rail" | "top" => MemberWord::On(Side::Top);
        "meeting rail" => MemberWord::MeetingRail;
    }
}

/// The face that a screw goes in by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FaceWord {
    OuterEdge,
    RoomFace,
}

choice! {
    FaceName: FaceWord {
        "outer edge" => FaceWord::OuterEdge;
        "room face" => FaceWord::RoomFace;
    }
}

table! {
    /// A nail, pin, bracket or other metal.
    MetalTable {
        /// What it is.
        name: Name, default "\"metal\"" = "metal".to_owned();
        /// Where: X and Y from the lower left corner of the sight.
        at: Pair<Coordinate>, needed;
        /// Everything within this distance counts as metal.
        radius: Away, default 5;
        /// Glazing face to its nearest part.
        from_face: Away, default 0;
        /// Whether it has been drawn.
        cleared: Flag, default false;
    }
}

table! {
    /// A clamp, stop or board on the bed.
    ClampTable {
        /// What it is.
        name: Name, default "\"clamp\"" = "clamp".to_owned();
        /// Its lower left corner: X and Y from the lower left corner of the sight.
        at: Pair<Coordinate>, needed;
        /// Its size along X and along Y.
        size: Pair<ClampSize>, needed;
        /// Its highest point above the glazing face; negative below it.
        height: ClampHeight, needed;
    }
}

table! {
    /// A hardware screw.
    ScrewTable {
        /// The member it sits in.
        member: MemberName, needed;
        /// Where it goes in: "outer edge", towards the glass, or "room face", towards the glazing
        /// face.
        from: FaceName, needed;
        /// Along the member: Y on a stile, X on a rail, from the lower left corner of the sight.
        at: Coordinate, needed;
        /// Length inside the wood.
        length: ScrewLength, needed;
        /// From the outer edge only: glazing face to the screw's axis.
        from_face: Away, otherwise "the middle of the member's thickness";
        /// From the room face only: sight edge to the screw's axis.
        from_sight: Away, otherwise "the middle of the member's width";
        /// Whether it has been drawn.
        cleared: Flag, default false;
    }
}
