//! The tables of a sash.

use super::sight::SightTable;
use super::surface::Spot;
use super::{
    Angle, Emissivity, Filled, GasWord, GlassWord, HingesTable, PlaceTable, SpacerWord, Thickest,
    WeatherTable, WeightsTable,
};
use crate::geometry::Side;
use crate::survey::entry::{All, Entry, Many, OneOrTwo, Pair};
use crate::survey::reader::{Node, Reader};
use crate::survey::scalars::{Flag, Id, Name, choice, measures};
use crate::survey::table::table;
use crate::survey::timber::TimberName;
use crate::survey::{BarsAs, BuildUp, Kind, Runs, UnitShape};
use serde_json::{Value, json};

measures! {
    SightSize: length 50.0 10_000.0;
    Face: length 10.0 1000.0;
    BarWidth: length 5.0 300.0;
    Thickness: length 10.0 200.0;
    OldCut: length 1.0 200.0;
    GrooveWidth: length 1.0 50.0;
    Thin: length 1.0 150.0;
    Shaping: length 0.5 200.0;
    Gap: length 0.0 100.0;
    Cover: length 1.0 100.0;
    Over: length 0.0 10.0;
    OrderStep: length 0.1 100.0;
    Coordinate: length -10_000.0 10_000.0;
    Away: length 0.0 1000.0;
    ClampSize: length 1.0 2000.0;
    ClampHeight: length -200.0 500.0;
    ScrewLength: length 1.0 500.0;
    Pressure: number 1.0 10_000.0 "Pa";
}

choice! {
    KindWord: Kind {
        "fixed" => Kind::Fixed;
        "side-hung" => Kind::SideHung;
        "top-hung" => Kind::TopHung;
        "sliding-upper" => Kind::SlidingUpper;
        "sliding-lower" => Kind::SlidingLower;
    }
}

choice! {
    HingeSideWord: Side {
        "left" | "left stile" => Side::Left;
        "right" | "right stile" => Side::Right;
    }
}

choice! {
    RunsWord: Runs {
        "upright" | "vertical" => Runs::Upright;
        "cross" | "horizontal" => Runs::Cross;
    }
}

choice! {
    UnitShapeWord: UnitShape {
        "square" => UnitShape::Square;
        "shaped" => UnitShape::Shaped;
    }
}

choice! {
    BarsAsWord: BarsAs {
        "one-unit" => BarsAs::OneUnit;
        "unit-per-light" => BarsAs::UnitPerLight;
    }
}

/// The shape of a moulding, by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::survey) enum Shape {
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

/// A member as a screw names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::survey) enum MemberWord {
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
pub(in crate::survey) enum FaceWord {
    OuterEdge,
    RoomFace,
}

choice! {
    FaceName: FaceWord {
        "outer edge" => FaceWord::OuterEdge;
        "room face" => FaceWord::RoomFace;
    }
}

/// `"4-6-4"`, or a bare thickness as text or number.
pub(in crate::survey) struct MakeUp;

impl Entry for MakeUp {
    type Value = BuildUp;

    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<BuildUp> {
        use toml::de::DeValue;
        let text = match node.get_ref() {
            DeValue::String(text) => text.to_string(),
            DeValue::Float(float) => float.as_str().to_owned(),
            DeValue::Integer(integer) if integer.radix() == 10 => integer.as_str().to_owned(),
            _ => String::new(),
        };
        let build_up = text.parse().ok();
        if build_up.is_none() {
            let hint = if text.contains(['/', 'x', '–', '\u{2212}']) {
                Some("write the parts from the outside in with hyphens between them".to_owned())
            } else {
                None
            };
            reader.refuse(node.span(), Self::expected(), hint);
        }
        build_up
    }

    fn expected() -> String {
        crate::survey::BuildUpError.to_string()
    }

    fn schema() -> Value {
        json!({ "anyOf": [
            { "type": "string", "examples": ["4-6-4", "14"] },
            { "type": "number", "exclusiveMinimum": 0, "maximum": 100 },
        ] })
    }
}

table! {
    /// What holds for every sash that does not say otherwise. The tables `unit`, `clearance`, `blocks`,
    /// `finish`, `place` and `weather` are filled in key by key; any other key of a sash replaces the default
    /// whole.
    DefaultsTable {
        /// As in a sash.
        kind: KindWord, otherwise "each sash gives its own";
        /// As in a sash.
        thickness: Thickness, otherwise "each sash gives its own";
        /// As in a sash.
        timber: TimberName, otherwise "the default of a sash";
        /// As in a sash.
        stiles: StilesTable, otherwise "each sash gives its own";
        /// As in a sash.
        rails: RailsTable, otherwise "each sash gives its own";
        /// As in a sash.
        rebate | "rabbet": RebateTable, otherwise "each sash gives its own";
        /// As in a sash.
        groove: GrooveTable, otherwise "each sash gives its own";
        /// As in a sash.
        moulding | "molding": MouldingTable, otherwise "the default of a sash";
        /// As in a sash.
        unit: UnitTable, otherwise "each sash gives its own";
        /// As in a sash.
        bars_as | "muntins_as": BarsAsWord, otherwise "the default of a sash";
        /// As in a sash.
        clearance: ClearanceTable, otherwise "the default of a sash";
        /// As in a sash.
        blocks: BlocksTable, otherwise "the default of a sash";
        /// As in a sash.
        finish: FinishTable, otherwise "the default of a sash";
        /// As in a sash.
        wind: Pressure, otherwise "the default of a sash";
        /// As in a sash.
        old_glass: Thickest, otherwise "the default of a sash";
        /// As in a sash.
        place: PlaceTable, otherwise "the default of a sash";
        /// As in a sash.
        weather: WeatherTable, otherwise "the default of a sash";
    }
}

table! {
    /// One sash, glazing face up. Left is left as seen looking down on that face.
    SashTable {
        /// Unique id: lower-case letters, digits and hyphens. It names the sash's folder.
        id: Id, needed;
        /// How it hangs or slides.
        kind: KindWord, otherwise "the kind in [defaults], which must then be there";
        /// Of a side-hung sash: the stile that carries the hinges, "left" or "right".
        hinge_side: HingeSideWord, otherwise "not known: blocks are told for either";
        /// From glazing face to room face.
        thickness: Thickness, otherwise "the thickness in [defaults], which must then be there";
        /// The timber, by species or strength class.
        timber: TimberName, usual "\"unknown-softwood\"";
        /// Sight size: daylight between the members, bars left out of account.
        sight: SightTable, needed;
        /// Overall size, if measured: a check on the other measures.
        overall: OverallTable, otherwise "no check";
        /// Face widths of the stiles.
        stiles: StilesTable, otherwise "the stiles in [defaults], or the width of each under `member`";
        /// Face widths of the rails.
        rails: RailsTable, otherwise "the rails in [defaults], or the width of each under `member`";
        /// The old rebate, of every member and bar.
        rebate | "rabbet": RebateTable, otherwise "the rebate or groove in [defaults], or of each under `member`";
        /// A groove in place of the rebate, in every member.
        groove: GrooveTable, otherwise "a rebate";
        /// Moulding on the room-side arris of every member and bar.
        moulding | "molding": MouldingTable, otherwise "square arrises";
        /// Where a single member differs.
        member: MemberTables, otherwise "all members are alike";
        /// Glazing bars.
        bars | "muntins" | "muntin": Many<BarTable>, otherwise "no bars";
        /// How the bars and the unit go together: one unit behind cut-down bars, or a unit in each
        /// light.
        bars_as | "muntins_as": BarsAsWord, usual "\"one-unit\"";
        /// The insulating glass unit to fit.
        unit: UnitTable, otherwise "the unit in [defaults], which must then be there";
        /// Gap wanted between the unit's edge and the rebate wall.
        clearance: ClearanceTable, otherwise "2 mm, and 4 mm at the bottom";
        /// Setting blocks under the unit.
        blocks: BlocksTable, otherwise "blocks as high as the bottom clearance";
        /// Bed and bead.
        finish: FinishTable, otherwise "a bed of 2 mm and a bead of 10 mm";
        /// Known metal: nails, pins, brackets.
        metal: Many<MetalTable>, otherwise "none is known";
        /// Screws of hinges, lifts and fasteners.
        screws: Many<ScrewTable>, otherwise "none is known";
        /// Clamps, stops and boards that hold the sash on the bed: no program may run into them.
        clamps: Many<ClampTable>, otherwise "none is in the way";
        /// Heights of the glazing face of a cupped or twisted sash, each [x, y, z]: how far the face lies
        /// there above where it would be if flat, negative below.
        surface: All<Spot>, otherwise "a flat sash";
        /// Wind pressure that the sash must bear, Pa.
        wind: Pressure, usual "800";
        /// Thickness of the old panes.
        old_glass: Thickest, otherwise "not known: no old weight is told, and old heat as through 3 mm";
        /// Weight boxes of a sliding sash.
        weights: WeightsTable, otherwise "not known, and not judged";
        /// Hinges of a hung sash.
        hinges: HingesTable, otherwise "not known, and not judged";
        /// How far a top-hung sash opens, degrees.
        opens: Angle, otherwise "not known, and reckoned as 90";
        /// Where the sash is.
        place: PlaceTable, otherwise "not known";
        /// Room and weather.
        weather: WeatherTable, otherwise "every value at its default";
    }
}

table! {
    /// Overall size of the sash.
    OverallTable {
        /// Over both stiles.
        width: SightSize, otherwise "not checked";
        /// Over both rails.
        height: SightSize, otherwise "not checked";
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
        /// Whether it runs from rail to rail or from stile to stile.
        runs: RunsWord, needed;
        /// Its centre line: from the left sight edge for an upright bar, from the lower one for a
        /// cross bar. Two values for a bar that leans: at its lower and upper end, or at its left and
        /// right end.
        centre | "center": OneOrTwo<Coordinate>, needed;
        /// Width seen from the room.
        width: BarWidth, needed;
        /// From glazing face to room face.
        thickness: Thickness, otherwise "as the sash";
        /// Its old rebates.
        rebate | "rabbet": RebateTable, otherwise "as the sash";
        /// Its mouldings.
        moulding | "molding": MouldingTable, otherwise "as the sash, narrowed to half the bar where it is wider";
        /// The tenon at its ends.
        tenon: TenonTable, otherwise "not known";
    }
}

table! {
    /// The unit to fit.
    UnitTable {
        /// Panes and cavities from the outside in, "4-6-4", or the overall thickness alone.
        build_up: MakeUp, otherwise "the build-up in [defaults], which must then be there";
        /// How far the unit reaches behind the sight edge on each side.
        cover: Cover, usual "12";
        /// Height of spacer and seal, from the unit's edge.
        spacer_height: Gap, otherwise "as the cover";
        /// How much thicker than its nominal thickness a unit may come.
        over: Over, otherwise "1 mm, or 2.8 mm for three panes and more (EN 1279-1:2018)";
        /// Thickness of edge tape on each edge.
        tape: Gap, usual "0";
        /// Width of internal bars behind glazing bars.
        internal_bar: Gap, otherwise "as the cover";
        /// Whether the glass is a rectangle, "square", or follows the daylight, "shaped".
        shape: UnitShapeWord, otherwise "square, but shaped behind a head, a round sash or a free outline";
        /// The order size is rounded down to a whole number of these.
        order_step: OrderStep, usual "1";
        /// Gas in the cavities: "air", "argon", "krypton" or "xenon".
        gas: GasWord, otherwise "not stated, and reckoned as air";
        /// Its share by volume; the rest is air.
        share: Filled, usual "0.9";
        /// Normal emissivity of the one coated face in each cavity, as its maker states it.
        emissivity: Emissivity, otherwise "not stated, and reckoned as plain glass";
        /// What keeps the panes apart: "metal" or "improved" (warm edge).
        spacer: SpacerWord, otherwise "not stated, and reckoned as metal";
        /// How the panes are treated: "annealed", "heat-strengthened" or "toughened".
        glass: GlassWord, otherwise "not stated, and reckoned as annealed";
    }
}

table! {
    /// Gap between the unit's edge and the rebate wall.
    ClearanceTable {
        /// At the left.
        left: Gap, usual "2";
        /// At the right.
        right: Gap, usual "2";
        /// At the top.
        top: Gap, usual "2";
        /// At the bottom, with room for the setting blocks.
        bottom: Gap, usual "4";
    }
}

table! {
    /// Setting blocks.
    BlocksTable {
        /// Height of the blocks under the unit.
        height: Gap, otherwise "as the bottom clearance";
    }
}

table! {
    /// Bed and bead.
    FinishTable {
        /// Sealant or tape between platform and unit.
        bed: Gap, usual "2";
        /// Height of the bead over the unit.
        bead: Gap, usual "10";
        /// How far the bead may stand proud of the glazing face.
        proud: Gap, usual "0";
    }
}

table! {
    /// A nail, pin, bracket or other metal.
    MetalTable {
        /// What it is.
        name: Name, usual "\"metal\"";
        /// Where: X and Y from the lower left corner of the sight.
        at: Pair<Coordinate>, needed;
        /// Everything within this distance counts as metal.
        radius: Away, usual "5";
        /// Glazing face to its nearest part.
        from_face: Away, usual "0";
        /// Whether it has been drawn.
        cleared: Flag, usual "false";
    }
}

table! {
    /// A clamp, stop or board on the bed.
    ClampTable {
        /// What it is.
        name: Name, usual "\"clamp\"";
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
    }
}
