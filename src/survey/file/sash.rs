//! The table of a sash, and what holds for every sash.

use super::around::{
    Angle, CordGrooveTable, HingesTable, PlaceTable, Thickest, WeatherTable, WeightsTable,
};
use super::fixings::{ClampTable, MetalTable, ScrewTable};
use super::lengths::{SightSize, Thickness};
use super::members::{
    BarTable, GrooveTable, HornsTable, MemberTables, MouldingTable, RailsTable, RebateTable,
    StilesTable,
};
use super::names::{ClassWord, Id, ProfileName, TimberName};
use super::sight::{SightTable, Spot};
use super::unit::{BlocksTable, ClearanceTable, FinishTable, UnitTable};
use crate::geometry::Side;
use crate::input::{All, Many, Whole, choice, measures, table};
use crate::survey::values::{BarsAs, HeldBy, Kind, UNKNOWN_SOFTWOOD, WaterOut};

measures! {
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
    not {
        "casement" => "a casement hangs at its side or at its top: write \"side-hung\" or \"top-hung\"";
        "sash" | "double-hung" | "box sash" | "box-sash" | "sliding" | "sliding sash" | "sliding-sash"
        | "vertical-sliding" | "single-hung" =>
            "of a pair that slides each sash is an entry of its own: write \"sliding-upper\" or \"sliding-lower\"";
    }
}

choice! {
    HingeSideWord: Side {
        "left" | "left stile" => Side::Left;
        "right" | "right stile" => Side::Right;
    }
}

choice! {
    BarsAsWord: BarsAs {
        "one-unit" => BarsAs::OneUnit;
        "unit-per-light" => BarsAs::UnitPerLight;
    }
}

choice! {
    GlazingWord: HeldBy {
        "beads" | "bead" => HeldBy::Beads;
        "putty" => HeldBy::Putty;
    }
}

choice! {
    DrainageWord: WaterOut {
        "drained" | "drained and ventilated" => WaterOut::Drained;
        "bedded" | "fully bedded" => WaterOut::Bedded;
    }
}

table! {
    /// What holds for every sash that does not say otherwise. The tables `unit`, `clearance`, `blocks`,
    /// `finish`, `place`, `weather` and `member` are filled in key by key; any other key of a sash replaces the
    /// default whole.
    DefaultsTable {
        /// As in a sash.
        kind: KindWord, otherwise "each sash gives its own";
        /// As in a sash.
        thickness: Thickness, otherwise "each sash gives its own";
        /// As in a sash.
        timber: TimberName, otherwise "the default of a sash";
        /// As in a sash.
        timber_class: ClassWord, otherwise "the default of a sash";
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
        member: MemberTables, otherwise "all members are alike";
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
        glazing: GlazingWord, otherwise "the default of a sash";
        /// As in a sash.
        drainage: DrainageWord, otherwise "the default of a sash";
        /// As in a sash.
        wind: Pressure, otherwise "the default of a sash";
        /// As in a sash.
        old_glass: Thickest, otherwise "the default of a sash";
        /// As in a sash.
        cord_groove: CordGrooveTable, otherwise "each sash gives its own";
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
        /// The id of another sash that this one is like: whatever is not said here is as there, but for its overall
        /// size, its metal and the heights of its face, which are each sash's own.
        like: Id, otherwise "like no other";
        /// The profile that this sash is of: whatever is not said here is as there.
        profile: ProfileName, otherwise "that of the sash it is like, or none";
        /// How many sashes are so alike that one entry tells them all. Of more than one the ids are this id with
        /// -1, -2, … behind it, each with its own labels and its own folder.
        count: Whole<1, 1000>, default 1;
        /// How it hangs or slides.
        kind: KindWord, otherwise "the kind in [defaults], which must then be there";
        /// Of a side-hung sash: the stile that carries the hinges, "left" or "right".
        hinge_side: HingeSideWord, otherwise "not known: blocks are told for either";
        /// From glazing face to room face.
        thickness: Thickness, otherwise "the thickness in [defaults], which must then be there";
        /// The timber, by species.
        timber: TimberName, default "\"unknown-softwood\"" = UNKNOWN_SOFTWOOD;
        /// What the timber is graded as, EN 338: "c16", "c24" or "d30".
        timber_class: ClassWord, otherwise "not graded: as stiff as the lowest class of its kind";
        /// Sight size: daylight between the members, bars left out of account.
        sight: SightTable, otherwise "that of the sash it is like, which must then be there";
        /// Overall size, if measured: a check on the other measures.
        overall: OverallTable, otherwise "no check";
        /// Face widths of the stiles.
        stiles: StilesTable, otherwise "the stiles in [defaults], or the width of each under `member`";
        /// Face widths of the rails.
        rails: RailsTable, otherwise "the rails in [defaults], or the width of each under `member`";
        /// Horns of a sash that slides: how far its stiles run on past a rail.
        horns: HornsTable, otherwise "no horns";
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
        bars_as | "muntins_as": BarsAsWord, default "\"one-unit\"" = BarsAs::OneUnit;
        /// The insulating glass unit to fit.
        unit: UnitTable, otherwise "the unit in [defaults], which must then be there";
        /// Gap wanted between the unit's edge and the rebate wall.
        clearance: ClearanceTable, otherwise "2 mm, and 4 mm at the bottom";
        /// Setting blocks under the unit.
        blocks: BlocksTable, otherwise "blocks as high as the bottom clearance";
        /// Bed and bead.
        finish: FinishTable, otherwise "a bed of 2 mm and a bead of 10 mm";
        /// What closes the rebate over the unit: "beads", or sprigs and face "putty".
        glazing: GlazingWord, default "\"beads\"" = HeldBy::Beads;
        /// How water beside the unit is kept from its edge seal: the gap "drained" and ventilated, or fully
        /// "bedded"; behind putty it is always bedded.
        drainage: DrainageWord, otherwise "not decided: the sheets tell both";
        /// Known metal: nails, pins, brackets.
        metal: Many<MetalTable>, otherwise "none is known";
        /// Screws of hinges, lifts and fasteners.
        screws: Many<ScrewTable>, otherwise "none is known";
        /// Clamps, stops and boards that hold the sash on the bed: no program may run into them.
        clamps: Many<ClampTable>, otherwise "none is in the way";
        /// Heights of the glazing face of a cupped or twisted sash, each [x, y, z]: how far the face lies
        /// there above where it would be if flat, negative below.
        surface: All<Spot>, otherwise "a flat sash";
        /// Wind pressure that the sash must bear, Pa; the weather's `site` in place of it.
        wind: Pressure, otherwise "that of the site, or else 800 is assumed: a test class, EN 12210 P1 of class 2";
        /// Thickness of the old panes.
        old_glass: Thickest, otherwise "not known: no old weight is told, and old heat as through 3 mm";
        /// Groove for the cord in the outer edges of a sliding sash's stiles.
        cord_groove: CordGrooveTable, otherwise "not known, and the wood beside is judged as if there were none";
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
        /// Over both rails, and over horns that the survey tells.
        height: SightSize, otherwise "not checked";
    }
}
