//! What the programs run on: cutter, machine and limits, and the surfaces behind the cut that margins are
//! measured against. Plain values; whoever knows workshop and sash fills them in.

use crate::geometry::{PerSide, Side, Sided, Surface};
use crate::language::{Text, text};
use crate::prove::tolerance::{CORNER, PITCH};
use crate::sash::Solid;
use kurbo::Rect;

/// What holds the cutter: the nut or nose of the spindle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Holder {
    /// Its largest diameter, mm.
    pub diameter: f64,
    /// From the cutter's tip up to it, mm.
    pub stick_out: f64,
}

/// A thinner cutter for the corners. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CornerCutter {
    /// Its diameter.
    pub diameter: f64,
    /// Length of its cutting edges.
    pub cutting_length: f64,
    /// Diameter of its shank.
    pub shank_diameter: f64,
    /// How many cutting edges it has.
    pub flutes: u32,
    /// What holds it, where that is known.
    pub holder: Option<Holder>,
    /// As in [`Setup`].
    pub least_chip: f64,
    /// As in [`Setup`].
    pub widest_bite: f64,
}

/// Cutter, machine and limits. Lengths in mm, feeds in mm/min, speeds in 1/min, angles in degrees.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// Name of the sash, as heads of programs have it; empty where it is not known.
    pub sash: String,
    /// Diameter of the flat-ended cutter.
    pub cutter_diameter: f64,
    /// Length of its cutting edges.
    pub cutting_length: f64,
    /// Diameter of its shank.
    pub shank_diameter: f64,
    /// How many cutting edges it has.
    pub flutes: u32,
    /// What holds it, where that is known.
    pub holder: Option<Holder>,
    /// A thinner cutter for the corners: of programs whose head names it.
    pub corner_cutter: Option<CornerCutter>,
    /// Travel of the machine in X and Y.
    pub travel: [f64; 2],
    /// Where the cutter's axis can go, in the sash's frame, where that is known.
    pub bed_area: Option<Rect>,
    /// Z at or above which rapid moves may run.
    pub clear_height: f64,
    /// Z that the cutter may never go below, as the bed lies there; where that is known.
    pub floor: Option<f64>,
    /// Largest feed along the path.
    pub max_feed: f64,
    /// Largest downward share of the feed.
    pub max_plunge: f64,
    /// Speed of rapid moves; for the estimate of time only.
    pub rapid: f64,
    /// Slowest and fastest spindle speed.
    pub spindle: [f64; 2],
    /// Thickest chip a cutting edge may take.
    pub most_chip: f64,
    /// Chip under which a cutting edge rubs more than it cuts, mm; where the machine cannot feed so fast, what it
    /// can.
    pub least_chip: f64,
    /// Deepest wood a move may meet.
    pub step_depth: f64,
    /// Widest bite sideways; a wider one may take no more than one as deep as a step.
    pub widest_bite: f64,
    /// Widest cut sideways that counts as a finishing cut, whose depth is not limited; 0 for none.
    pub skim: f64,
    /// Steepest ramp down into wood; steeper is a plunge.
    pub ramp_angle: f64,
    /// How exactly the cut must match the plan.
    pub tolerance: f64,
    /// How far the glazing face lies above the Z of a flat sash.
    pub surface: Surface,
    /// Clamps, boards and metal: nothing may run into them. Only their tops matter, not how far
    /// down they reach.
    pub obstacles: Vec<Solid>,
    /// How many of them, the first ones, can be put elsewhere.
    pub clamps: usize,
    /// What the margins are measured against; without it only clearances are.
    pub reserve: Reserve,
    /// The units that were ordered; without them it is not known whether they go in.
    pub units: Vec<Ordered>,
}

impl Default for Setup {
    fn default() -> Self {
        Setup {
            sash: String::new(),
            cutter_diameter: 12.0,
            cutting_length: 38.0,
            shank_diameter: 12.0,
            flutes: 2,
            holder: None,
            corner_cutter: None,
            travel: [1200.0, 1200.0],
            bed_area: None,
            clear_height: 8.0,
            floor: None,
            max_feed: 1500.0,
            max_plunge: 400.0,
            rapid: 3000.0,
            spindle: [1000.0, 24_000.0],
            // Under what published charts allow a cutter of 6 mm in softwood (0.15 to 0.33 mm a cutting edge).
            most_chip: 0.2,
            // Hardwood, as an open book on small machines has it (second hand; 0.1 in softwood).
            least_chip: 0.05,
            step_depth: 4.0,
            widest_bite: 12.0,
            skim: 0.5,
            ramp_angle: 5.0,
            tolerance: 0.05,
            surface: Surface::FLAT,
            obstacles: Vec::new(),
            clamps: 0,
            reserve: Reserve::default(),
            units: Vec::new(),
        }
    }
}

impl Setup {
    /// Half the cutter's diameter, mm.
    pub fn radius(&self) -> f64 {
        self.cutter_diameter / 2.0
    }

    /// Pitch of the rows where boundaries are not upright, mm: the tolerance, within bounds.
    pub fn pitch(&self) -> f64 {
        self.tolerance.clamp(PITCH.0, PITCH.1)
    }

    /// Radius of the core of the cutter that must not meet deeper wood than a step. The rim outside
    /// it may take a finishing cut: `skim` along a wall is `√2 skim` across an inside corner.
    pub(super) fn core_radius(&self) -> f64 {
        (self.radius() - self.rim_width()).max(0.0)
    }

    /// Width of the rim outside the core.
    pub(super) fn rim_width(&self) -> f64 {
        std::f64::consts::SQRT_2 * self.skim + self.tolerance
    }

    /// Most wood that a feed move may take a minute, mm³: a slot as wide as the cutter and as deep as
    /// a step, at the largest feed. A wider or deeper cut must go that much slower (common practice:
    /// what the cutter, the spindle and the clamps bear goes with the wood removed a minute).
    pub(super) fn most_removal(&self) -> f64 {
        self.cutter_diameter * (self.step_depth + self.tolerance) * self.max_feed
    }

    /// The same with the cutter put in that a program is for, if its head names one.
    pub(super) fn with_cutter(&self, named: Option<f64>) -> Setup {
        let own =
            |cutter: &CornerCutter| named.is_some_and(|it| (it - cutter.diameter).abs() <= CORNER);
        let Some(cutter) = self.corner_cutter.filter(own) else { return self.clone() };
        Setup {
            cutter_diameter: cutter.diameter,
            cutting_length: cutter.cutting_length,
            shank_diameter: cutter.shank_diameter,
            flutes: cutter.flutes,
            holder: cutter.holder,
            least_chip: cutter.least_chip,
            widest_bite: cutter.widest_bite,
            // The walls are finished before it goes in.
            skim: 0.0,
            ..self.clone()
        }
    }

    /// Refuses values that would make every judgement meaningless.
    pub(super) fn check(&self) -> Result<(), Text> {
        let positive = [
            (self.cutter_diameter, "setting-diameter"),
            (self.cutting_length, "setting-cutting-length"),
            (self.shank_diameter, "setting-shank"),
            (self.travel[0], "setting-travel-x"),
            (self.travel[1], "setting-travel-y"),
            (self.clear_height, "setting-clear-height"),
            (self.max_feed, "setting-feed"),
            (self.max_plunge, "setting-plunge"),
            (self.rapid, "setting-rapid"),
            (self.spindle[0], "setting-slowest"),
            (self.spindle[1], "setting-fastest"),
            (f64::from(self.flutes), "setting-edges"),
            (self.most_chip, "setting-thickest-chip"),
            (self.least_chip, "setting-least-chip"),
            (self.step_depth, "setting-step"),
            (self.widest_bite, "setting-bite"),
            (self.ramp_angle, "setting-ramp"),
            (self.tolerance, "setting-tolerance"),
        ];
        for (value, wrong) in positive {
            if !(value.is_finite() && value > 0.0) {
                return Err(Text::of(wrong));
            }
        }
        if !(self.skim.is_finite() && self.skim >= 0.0) {
            return Err(text!("setting-finish"));
        }
        if let Some(holder) = self.holder
            && !(holder.diameter.is_finite()
                && holder.diameter > 0.0
                && holder.stick_out.is_finite()
                && holder.stick_out >= self.cutting_length)
        {
            return Err(text!("setting-holder"));
        }
        if self.core_radius() <= 0.0 {
            return Err(text!("setting-smaller"));
        }
        if self.tolerance >= self.clear_height {
            return Err(text!("setting-tolerance-height"));
        }
        match self.corner_cutter {
            Some(cutter) if cutter.diameter >= self.cutter_diameter => {
                Err(text!("setting-corner-cutter"))
            }
            Some(cutter) => {
                Setup { corner_cutter: None, ..self.with_cutter(Some(cutter.diameter)) }.check()
            }
            None => Ok(()),
        }
    }
}

/// The axis that a surface changes along.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Across {
    /// Along X, as the moulding of an upright part does.
    X,
    /// Along Y, as the moulding of a level part does.
    Y,
}

/// One member or bar: its room-side surface, and how much wood it must keep.
#[derive(Debug, Clone, PartialEq)]
pub struct Front {
    /// What a joiner calls it.
    pub name: String,
    /// The strip that it fills, seen on the glazing face.
    pub area: Rect,
    /// Which way its surface changes.
    pub across: Across,
    /// The room-side surface across the strip: places along that axis, rising, each with its Z.
    /// Straight between two places; beyond the ends it goes on level.
    pub surface: Vec<[f64; 2]>,
    /// Least wood wanted between cut and surface, mm.
    pub least: f64,
    /// Z below which it may not be cut, whatever its moulding; for a bar that needs height.
    pub lowest: Option<f64>,
    /// For a member of the frame: the side of the sash it makes, and the least wood wanted between
    /// the cut and its outer edge, mm.
    pub outer: Option<(Side, f64)>,
}

impl Front {
    /// Highest place of the surface between two places of its axis: the place and its Z.
    pub(super) fn highest(&self, from: f64, to: f64) -> (f64, f64) {
        let (from, to) = (from.min(to), from.max(to));
        let ends = [from, to].map(|at| (at, self.height(at)));
        let first = self.surface.partition_point(|&[at, _]| at < from);
        let inner = self.surface.get(first..).unwrap_or_default().iter();
        let inner = inner.map(|&[at, z]| (at, z)).take_while(|(at, _)| *at <= to);
        let higher = |a: (f64, f64), b: (f64, f64)| if b.1 > a.1 { b } else { a };
        ends.into_iter().chain(inner).fold((from, f64::NEG_INFINITY), higher)
    }

    /// Z of the surface at a place of its axis; where it is upright, the higher end.
    pub fn height(&self, at: f64) -> f64 {
        let next = self.surface.partition_point(|&[place, _]| place < at);
        let before = next.checked_sub(1).and_then(|index| self.surface.get(index));
        match (before, self.surface.get(next)) {
            (Some(&[a, za]), Some(&[b, zb])) if b > a => za + (zb - za) * (at - a) / (b - a),
            (_, Some(&[_, z])) | (Some(&[_, z]), None) => z,
            (None, None) => f64::NEG_INFINITY,
        }
    }
}

/// A unit as it was ordered, and what goes round it: from the survey and the order, whatever was planned to be
/// cut. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Ordered {
    /// The light, or lights, it serves.
    pub light: String,
    /// The unit, edge tape counted, where the order draws it; each edge with its side.
    pub drawn: Sided,
    /// The same where it is said to come to rest on its blocks.
    pub rest: Sided,
    /// Gap wanted all round the drawn place.
    pub clearance: PerSide<f64>,
    /// Sealant or tape between platform and unit.
    pub bed: f64,
    /// The unit at its thickest.
    pub thickest: f64,
    /// Bead or putty over it.
    pub bead: f64,
    /// How far that may stand proud of the face.
    pub proud: f64,
}

impl Ordered {
    /// How far below the face its platform must lie: what lies on it, one on the other, less what may stand
    /// proud.
    pub fn depth(&self) -> f64 {
        self.bed + self.thickest + self.bead - self.proud
    }
}

/// Where a unit comes to rest.
#[derive(Debug, Clone, PartialEq)]
pub struct Seat {
    /// The light, or lights, it serves: as the pocket of the rebate names them.
    pub light: String,
    /// The unit, seen on the glazing face.
    pub unit: Rect,
    /// Room between platform and unit, mm, that a platform left too high may use up.
    pub bed: f64,
}

/// Everything that the margins are measured against.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Reserve {
    /// Members and bars. Where strips overlap, each is measured.
    pub fronts: Vec<Front>,
    /// Units.
    pub seats: Vec<Seat>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_defaults_are_sound_and_nonsense_is_not() {
        assert_eq!(Setup::default().check(), Ok(()));
        for wrong in [f64::NAN, f64::INFINITY, 0.0, -1.0] {
            assert!(Setup { cutter_diameter: wrong, ..Setup::default() }.check().is_err());
            assert!(Setup { tolerance: wrong, ..Setup::default() }.check().is_err());
        }
        assert!(Setup { skim: 6.0, ..Setup::default() }.check().is_err());
    }

    #[test]
    fn the_surface_is_straight_between_its_places_and_level_beyond() {
        let front = Front {
            name: "left stile".into(),
            area: Rect::new(-50.0, 0.0, 0.0, 100.0),
            across: Across::X,
            surface: vec![[-10.0, -45.0], [-2.0, -37.0], [0.0, -39.0]],
            least: 5.0,
            lowest: None,
            outer: None,
        };
        let heights = [-30.0, -10.0, -6.0, -2.0, -1.0, 0.0, 3.0].map(|at| front.height(at));
        assert_eq!(heights, [-45.0, -45.0, -41.0, -37.0, -38.0, -39.0, -39.0]);
        assert_eq!(front.highest(-14.0, 0.0), (-2.0, -37.0));
        assert_eq!(front.highest(-14.0, -6.0), (-6.0, -41.0));
        assert_eq!(front.highest(-20.0, -15.0).1, -45.0);
        // A quirk: upright at one place, and the higher end counts.
        let quirk = Front { surface: vec![[-3.0, -45.0], [-3.0, -36.0], [0.0, -41.0]], ..front };
        assert_eq!(quirk.highest(-14.0, -3.0).1, -36.0);
    }
}
