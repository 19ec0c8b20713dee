//! The tables of what is done: what was ordered, cut, delivered and glazed, written down beside the survey.

use super::lengths::SightSize;
use super::names::{Id, LayerName, Name};
use super::unit::MakeUp;
use crate::input::{Many, measures, table};

measures! {
    Depth: length 1.0 200.0;
    UnitThickness: length 3.0 100.0;
}

table! {
    /// What is done at the sashes of a house, beside its survey.
    DoneFile {
        /// One [[sash]] for each sash at which something is done.
        sash: Many<DoneTable>, needed;
    }
}

table! {
    /// What is done at one sash.
    DoneTable {
        /// Its id in the survey.
        id: Id, needed;
        /// The name of its house, where several surveys stand in one folder.
        house: Name, otherwise "the survey that stands beside";
        /// The units that were ordered for it.
        ordered: Many<OrderedTable>, otherwise "nothing is ordered";
        /// That it was cut, and what was measured after.
        cut: CutTable, otherwise "it is not cut";
        /// The units that came.
        delivered: Many<DeliveredTable>, otherwise "none is measured";
        /// That it was glazed.
        glazed: GlazedTable, otherwise "it is not glazed";
    }
}

table! {
    /// A unit that was ordered.
    OrderedTable {
        /// The day, in your words.
        on: Name, needed;
        /// The light that it is for.
        light: LayerName, otherwise "the whole sash";
        /// Width as ordered.
        width: SightSize, needed;
        /// Height as ordered.
        height: SightSize, needed;
        /// Panes and cavities as ordered.
        build_up: MakeUp, otherwise "not compared";
    }
}

table! {
    /// A sash that was cut.
    CutTable {
        /// The day, in your words.
        on: Name, needed;
        /// Glazing face to the new platform, as measured.
        depth: Depth, otherwise "not measured";
        /// From wall to wall across, as measured at its least.
        width: SightSize, otherwise "not measured";
        /// From wall to wall up, as measured at its least.
        height: SightSize, otherwise "not measured";
    }
}

table! {
    /// A unit that came.
    DeliveredTable {
        /// The light that it is for.
        light: LayerName, otherwise "the whole sash";
        /// Width, as measured at its most.
        width: SightSize, otherwise "as ordered";
        /// Height, as measured at its most.
        height: SightSize, otherwise "as ordered";
        /// Thickness, as measured at its most.
        thickness: UnitThickness, otherwise "as the survey has it";
    }
}

table! {
    /// A sash that was glazed.
    GlazedTable {
        /// The day, in your words.
        on: Name, needed;
    }
}
