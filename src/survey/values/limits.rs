//! Every limit that a judgement uses: its default, its unit and what it rests on, in one place.

use crate::finding::{Basis, Bound};

/// A limit and what it rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// The value, in the unit its field states.
    pub value: f64,
    /// Where it comes from.
    pub basis: Basis,
}

impl Limit {
    /// The user's own setting.
    pub fn set(value: f64) -> Limit {
        Limit { value, basis: Basis::Setting }
    }

    const fn usual(value: f64) -> Limit {
        Limit { value, basis: Basis::CommonPractice }
    }

    const fn published(value: f64, source: &'static str) -> Limit {
        Limit { value, basis: Basis::Published(source) }
    }
}

impl From<&Limit> for Bound {
    fn from(limit: &Limit) -> Bound {
        Bound { value: limit.value, basis: limit.basis.clone() }
    }
}

/// What a limit is measured in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Millimetres.
    Millimetres,
    /// A share, 0 to 1.
    Share,
    /// A bare ratio, 1 and up.
    Ratio,
    /// Millimetres of something as large as a window.
    Size,
    /// Kilograms.
    Kilograms,
}

macro_rules! limits {
    (@measure) => { Measure::Millimetres };
    (@measure $measure:ident) => { Measure::$measure };
    ($($(#[doc = $doc:literal])+ $name:ident $(: $measure:ident)? = $default:expr;)+) => {
        /// The limits of every rule. A field ending in `_stop` turns a finding into a stop, one ending
        /// in `_caution` into a caution.
        #[derive(Debug, Clone, PartialEq)]
        pub struct Limits {
            $($(#[doc = $doc])+ pub $name: Limit,)+
        }

        impl Default for Limits {
            fn default() -> Self {
                Limits { $($name: $default,)+ }
            }
        }

        impl Limits {
            /// Names of all limits, as the survey writes them.
            pub const NAMES: &'static [&'static str] = &[$(stringify!($name)),+];

            /// The limit of that name, to be set.
            pub fn by_name(&mut self, name: &str) -> Option<&mut Limit> {
                match name {
                    $(stringify!($name) => Some(&mut self.$name),)+
                    _ => None,
                }
            }

            /// What the limit of that name is measured in; millimetres for an unknown name.
            pub fn measure(name: &str) -> Measure {
                match name {
                    $(stringify!($name) => limits!(@measure $($measure)?),)+
                    _ => Measure::Millimetres,
                }
            }

            /// What the limit of that name means, in one line.
            pub fn meaning(name: &str) -> Option<&'static str> {
                match name {
                    $(stringify!($name) => Some(concat!($($doc),+).trim_ascii()),)+
                    _ => None,
                }
            }
        }
    };
}

limits! {
    /// Least wood between new platform and moulding, mm.
    front_stop = Limit::usual(5.0);
    /// Wood between new platform and moulding that wants care, mm.
    front_caution = Limit::usual(8.0);
    /// Least wood from the new rebate wall to the member's outer edge, mm.
    beside_stop = Limit::usual(15.0);
    /// Wood from the new rebate wall to the member's outer edge that wants care, mm.
    beside_caution = Limit::usual(22.0);
    /// Least share of a tenon's section that must be left, 0 to 1.
    tenon_stop: Share = Limit::usual(0.5);
    /// Share of a tenon's section that wants care, 0 to 1.
    tenon_caution: Share = Limit::usual(0.75);
    /// Least height of a glazing bar after it is cut down, mm.
    bar_stop = Limit::usual(10.0);
    /// Height of a cut-down glazing bar that wants care, mm.
    bar_caution = Limit::usual(15.0);
    /// Least web between two rebates of one glazing bar, mm.
    web_stop = Limit::published(4.0, "Building Conservation Directory 2020, p. 12 (4 mm feather)");
    /// Web of a glazing bar that wants care, mm.
    web_caution = Limit::usual(6.0);
    /// Least gap between a screw's point and the unit's edge, mm.
    screw_stop = Limit::usual(2.0);
    /// Gap between a screw's point and the unit's edge that wants care, mm.
    screw_caution = Limit::usual(5.0);
    /// How far a bead may stand proud of the glazing face of a sash that slides or closes, mm.
    proud_stop = Limit::usual(0.0);
    /// How much of a spacer or internal bar may show before it wants care, mm.
    shows_caution = Limit::usual(0.5);
    /// How much of a spacer or internal bar may show at all, mm.
    shows_stop = Limit::usual(6.0);
    /// How much wider than a shaped unit's a rectangular unit's rebate may be anywhere in a sash out of
    /// square before it wants care, mm.
    taper_caution = Limit::usual(6.0);
    /// Least edge clearance anywhere once the unit rests on its blocks, mm.
    clearance_stop = Limit::usual(1.0);
    /// Edge clearance that wants care, mm.
    clearance_caution = Limit::usual(2.0);
    /// Width of a rebate for double glazing, where it is said how water is kept from the edge seal, that wants care, mm.
    rebate_caution = Limit::published(15.0, "NHBC Standards 6.7.7, timber windows");
    /// Edge clearance of a unit that is drained, not bedded, that wants care, mm.
    drained_gap_caution = Limit::published(3.0, "NPR 3577, as VKG 3.5 and VMRG 7.6 give it");
    /// Height of face putty, and width of its rebate, that want care, mm.
    putty_caution = Limit::published(6.0, "Building Conservation Directory 2020, p. 12");
    /// Least height of setting blocks, mm.
    block_stop = Limit::usual(1.0);
    /// Height of setting blocks that wants care, mm.
    block_caution = Limit::usual(2.0);
    /// Span over deflection under wind below which the member is too limp.
    span_over_deflection_stop: Ratio = Limit::published(150.0, "EN 12210 class A, l/150");
    /// Span over deflection under wind that wants care.
    span_over_deflection_caution: Ratio = Limit::published(200.0, "EN 12210 class B, l/200");
    /// Loads on glass are multiplied by this.
    glass_load_factor: Ratio = Limit::published(1.1, "EN 16612, infill panels (from memory)");
    /// Share of the permissible stress of glass that wants care, 0 to 1.
    glass_use_caution: Share = Limit::published(1.0, "EN 16612");
    /// Width of template plate between two apertures, or beside one, that wants care, mm.
    plate_bearing_caution = Limit::usual(8.0);
    /// How far the rebate that a bearing gives may differ from the one wanted before it wants care, mm.
    bearing_off_caution = Limit::usual(0.5);
    /// Longest side of a unit beyond which the maker is to be asked, mm.
    glass_side_caution: Size = Limit::published(2000.0, "EN 1279-1:2018, first row of tolerances (from memory)");
    /// Length of a unit over its width beyond which the maker is to be asked.
    glass_slender_caution: Ratio = Limit::usual(6.0);
    /// Weight that one person lifts with care, kg.
    lifting_caution: Kilograms = Limit::published(16.0, "HSE filter (L23), close in at the elbow");
    /// Weight that wants two people or a hoist, kg.
    lifting_two_caution: Kilograms = Limit::published(25.0, "HSE filter (L23), close in at the elbow");
    /// Length that must be left in a weight box for cord, knot and stretch, mm.
    weight_gap_caution = Limit::usual(50.0);
    /// Share by which a weight from the scale may differ from the reckoned one before it wants care, 0 to 1.
    weighed_caution: Share = Limit::usual(0.1);
    /// Weight after over weight before, of a hung sash, that wants its joints and hinges looked to.
    heavier_caution: Ratio = Limit::usual(2.0);
    /// Share of what hinge screws hold that wants care, 0 to 1.
    screw_hold_caution: Share = Limit::usual(1.0);
    /// Chance that a unit goes in without planing that wants care, 0 to 1.
    goes_in_caution: Share = Limit::usual(0.9);
    /// Edge clearance that must be left when the unit is put in, and once damp and sun have taken their most, mm.
    movement_left_caution = Limit::usual(0.0);
    /// Bed under the unit that must be left when it is put in, and once the timber has dried, mm.
    bed_left_caution = Limit::usual(1.0);
    /// How far a measure of a sash out of square may lie from where the others put it, over what their tolerances let expect.
    misfit_caution: Ratio = Limit::usual(1.5);
    /// By how much the tolerances of a sash out of square may have to be stretched before all its measures can be true.
    stretch_stop: Ratio = Limit::usual(1.0);
    /// Least bed under a flat unit on a twisted platform, mm.
    twist_stop = Limit::usual(0.0);
    /// Bed under a flat unit on a twisted platform that wants care, mm.
    twist_caution = Limit::usual(1.0);
    /// Most that a height of the face may lie off the surface that the programs follow, mm.
    face_stop = Limit::usual(1.0);
    /// How far a height of the face may lie off the surface that the programs follow before it wants care, mm.
    face_caution = Limit::usual(0.3);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_leads_to_its_limit_and_meaning() {
        let mut limits = Limits::default();
        for name in Limits::NAMES {
            assert!(!Limits::meaning(name).unwrap().is_empty());
            *limits.by_name(name).unwrap() = Limit::set(7.0);
        }
        assert_eq!(limits.web_stop, Limit::set(7.0));
        assert_eq!(limits.by_name("web"), None);
    }
}
