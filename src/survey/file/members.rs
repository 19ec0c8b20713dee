//! The tables of the timber: stiles, rails and bars, what is cut into them and how they are joined.

use super::lengths::{Away, Coordinate, Thickness};
use crate::geometry::Side;
use crate::input::{All, OneOrTwo, Pair, Spanned, choice, measures, table};
use crate::survey::values::Runs;

measures! {
    Face: length 10.0 1000.0;
    BarWidth: length 5.0 300.0;
    HornLength: length 5.0 300.0;
    OldCut: length 1.0 200.0;
    GrooveWidth: length 1.0 50.0;
    Thin: length 1.0 150.0;
    Shaping: length 0.5 200.0;
    BarRise: length 0.0 5000.0;
}

/// How a bar runs, by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Running {
    Through(Runs),
    Slanting,
    Curved,
    Branching,
}

choice! {
    RunsWord: Running {
        "upright" | "vertical" => Running::Through(Runs::Upright);
        "cross" | "horizontal" => Running::Through(Runs::Cross);
        "slanting" => Running::Slanting;
        "curved" => Running::Curved;
        "branching" => Running::Branching;
    }
    not {
        "ring" | "round" | "circle" | "circular" =>
            "a ring is two curved bars, each half a circle between the same two places, and other bars that hold it";
        "elliptical" | "ellipse" | "arched" | "arch" =>
            "an arch of several centres is several curved bars, each beginning where the one before ends";
    }
}

/// Which way a curved bar bulges, as seen on the glazing face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Bulges {
    Up,
    Down,
    Left,
    Right,
}

choice! {
    BulgesWord: Bulges {
        "up" => Bulges::Up;
        "down" => Bulges::Down;
        "left" => Bulges::Left;
        "right" => Bulges::Right;
    }
}

/// The shape of a moulding, by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Shape {
    Square,
    Chamfer,
    Ovolo,
    Ogee,
    Traced,
}

choice! {
    ShapeWord: Shape {
        "square" => Shape::Square;
        "chamfer" => Shape::Chamfer;
        "ovolo" => Shape::Ovolo;
        "ogee" | "lamb's tongue" => Shape::Ogee;
        "traced" => Shape::Traced;
    }
}

table! {
    /// Face widths of the stiles, sight edge to outer edge.
    StilesTable {
        /// Both stiles.
        width: Face, otherwise "`left` and `right`";
        /// The left stile.
        left: Face, otherwise "`width`";
        /// The right stile.
        right: Face, otherwise "`width`";
    }
}

table! {
    /// Face widths of the rails, sight edge to outer edge.
    RailsTable {
        /// Both rails.
        width: Face, otherwise "`top` and `bottom`";
        /// The top rail; of a lower sliding sash, the meeting rail.
        top: Face, otherwise "`width`";
        /// The bottom rail; of an upper sliding sash, the meeting rail.
        bottom: Face, otherwise "`width`";
    }
}

table! {
    /// Horns: how far both stiles run on past a rail.
    HornsTable {
        /// Past the top rail; of a lower sliding sash, the meeting rail.
        top: HornLength, otherwise "no horns there";
        /// Past the bottom rail; of an upper sliding sash, the meeting rail.
        bottom: HornLength, otherwise "no horns there";
    }
}

table! {
    /// An old glazing rebate, open to the glazing face.
    RebateTable {
        /// Sight edge to rebate wall.
        width: OldCut, needed;
        /// Glazing face to platform.
        depth: OldCut, needed;
    }
}

table! {
    /// An old glazing groove: a slot in the edge, as in many meeting rails.
    GrooveTable {
        /// Glazing face to the near side of the slot.
        from_face: OldCut, needed;
        /// Width of the slot, square to the glass.
        width: GrooveWidth, needed;
        /// How far it reaches into the member from the sight edge.
        depth: OldCut, needed;
    }
}

table! {
    /// A moulding on a room-side arris.
    MouldingTable {
        /// Its shape. An ogee is also called lamb's tongue.
        shape: ShapeWord, needed;
        /// From the sight edge into the member, along the face.
        width: Shaping, otherwise "a square or traced shape";
        /// From the room face towards the glass.
        depth: Shaping, otherwise "a square or traced shape";
        /// A traced shape only: pairs of distance from the sight edge and depth below the room face.
        /// The first pair lies at the sight edge (distance 0), the last on the room face (depth 0).
        points: All<Pair<Away>>, otherwise "a shape by name";
    }
}

table! {
    /// Single members that differ from the rest.
    MemberTables {
        /// The left stile.
        left: MemberTable, otherwise "like the rest";
        /// The right stile.
        right: MemberTable, otherwise "like the rest";
        /// The top rail, or the meeting rail of a lower sliding sash.
        top: MemberTable, otherwise "like the rest";
        /// The bottom rail, or the meeting rail of an upper sliding sash.
        bottom: MemberTable, otherwise "like the rest";
    }
}

impl MemberTables {
    /// What is said of the member on that side.
    pub(crate) fn on(&self, side: Side) -> Option<&Spanned<Box<MemberTable>>> {
        match side {
            Side::Left => self.left.as_ref(),
            Side::Right => self.right.as_ref(),
            Side::Bottom => self.bottom.as_ref(),
            Side::Top => self.top.as_ref(),
        }
    }
}

table! {
    /// A single member.
    MemberTable {
        /// Face width, sight edge to outer edge.
        width: Face, otherwise "as under `stiles` or `rails`";
        /// From glazing face to room face.
        thickness: Thickness, otherwise "as the sash";
        /// Its old rebate.
        rebate | "rabbet": RebateTable, otherwise "as the sash";
        /// Its old groove, in place of a rebate.
        groove: GrooveTable, otherwise "as the sash";
        /// The tenon at its ends.
        tenon: TenonTable, otherwise "not known";
        /// Its moulding.
        moulding | "molding": MouldingTable, otherwise "as the sash";
    }
}

table! {
    /// The tenon at the ends of a member.
    TenonTable {
        /// Thickness, square to the glass.
        thickness: Thin, needed;
        /// Glazing face to its nearer cheek.
        from_face: Away, needed;
        /// How much of the member's width, from its outer edge, is only haunch.
        haunch: Away, otherwise "not known, and counted with the tenon";
    }
}

table! {
    /// A glazing bar, the same on both sides of its centre line.
    BarTable {
        /// Whether it runs upright from rail to rail or across from stile to stile; slanting or curved
        /// between two places; or stands upright under a pointed head and is branching there: at the
        /// springing line it divides into two arcs like those of the head.
        runs: RunsWord, needed;
        /// Its centre line: from the left sight edge for an upright bar, from the lower one for a
        /// cross bar. Two values for a bar that leans: at its lower and upper end, or at its left and
        /// right end. Of a branching bar, where it stands.
        centre | "center": OneOrTwo<Coordinate>, otherwise "the ends of a slanting or curved bar";
        /// Where the centre line of a slanting or curved bar begins, X and Y: on a sight edge, or on the
        /// centre line of another bar.
        from: Pair<Coordinate>, otherwise "`centre`";
        /// Where it ends, likewise.
        to: Pair<Coordinate>, otherwise "`centre`";
        /// How far the middle of a curved bar's centre line lies off the straight line between its ends:
        /// at most half the length of that line.
        rise: BarRise, otherwise "a bar that is not curved";
        /// Which way a curved bar bulges: up, down, left or right.
        bulges: BulgesWord, otherwise "up, or left where it stands more than it lies";
        /// Width seen from the room.
        width: BarWidth, needed;
        /// From glazing face to room face.
        thickness: Thickness, otherwise "as the sash";
        /// Its old rebates.
        rebate | "rabbet": RebateTable, otherwise "as the sash";
        /// Its mouldings.
        moulding | "molding": MouldingTable, otherwise "as the sash, narrowed to half the bar where it is wider";
        /// The tenon at its ends.
        tenon: BarTenonTable, otherwise "not known";
    }
}

table! {
    /// The tenon at the ends of a glazing bar, all over its width.
    BarTenonTable {
        /// Thickness, square to the glass.
        thickness: Thin, needed;
        /// Glazing face to its nearer cheek.
        from_face: Away, needed;
    }
}
