//! What is put into the new rebate: unit, bed, bead or face putty, setting blocks.

use super::wood::closed;
use super::{Cross, End, settled};
use crate::fit::{Facing, SLOT};
use crate::geometry::{COINCIDENT, Side};
use crate::sash::Part;
use crate::survey::{BuildUp, Runs, WaterOut};
use kurbo::{BezPath, Point, Rect};

/// What is put into the new rebate. Everything in the frame of the section.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Glazing {
    /// The panes. An end that lies beyond the wood is open: the glass goes on.
    pub panes: Vec<Rect>,
    /// Spacers and internal bars, between the panes.
    pub spacers: Vec<Rect>,
    /// Sealant or tape on the platform.
    pub bed: Vec<Rect>,
    /// Tape round the unit's edge.
    pub tape: Vec<Rect>,
    /// Beads.
    pub beads: Vec<BezPath>,
    /// Openings behind a bead, where the gap is drained: they are short, and the section is taken at one.
    pub drains: Vec<Rect>,
    /// Face putty.
    pub putty: Vec<BezPath>,
    /// Sealant between the edge of unit and bed and the wall, where the gap is filled: also where a block stands, for blocks
    /// are short.
    pub filled: Vec<Rect>,
    /// Setting or location blocks.
    pub blocks: Vec<Rect>,
}

impl Glazing {
    /// The gaps that are filled, but for those where a block is cut: there it fills the gap.
    pub fn filled_beside_blocks(&self) -> Vec<Rect> {
        self.filled.iter().filter(|gap| !self.blocks.contains(gap)).copied().collect()
    }
}

impl Cross<'_> {
    /// What is put in, with the glass as far as `daylight` mm beyond the sight edge.
    pub fn glazing(&self, daylight: f64) -> Glazing {
        let mut glazing = Glazing::default();
        if self.runs_over() {
            self.unit_over(&mut glazing, daylight);
        }
        for end in &self.ends {
            self.unit_end(&mut glazing, end, daylight);
        }
        // A bed of no thickness, a unit that stays short of the wood and the like are not drawn.
        let is_seen = |rect: &Rect| rect.width() > COINCIDENT && rect.height() > COINCIDENT;
        let kinds = [&mut glazing.panes, &mut glazing.spacers, &mut glazing.bed];
        let kinds = kinds.into_iter().chain([&mut glazing.tape, &mut glazing.blocks]);
        for rects in kinds.chain([&mut glazing.filled]) {
            rects.retain(is_seen);
        }
        glazing
    }

    /// Z of the unit's room-side surface.
    pub fn floor(&self) -> f64 {
        self.sash.measured.finish.bed - self.fit.depth
    }

    /// Z of the unit's outer surface, at its nominal thickness.
    pub fn top(&self) -> f64 {
        self.floor() + self.sash.measured.unit.build_up.thickness()
    }

    /// Panes and cavities as stretches of Z; a unit of which only the thickness is known is one pane.
    pub fn stack(&self) -> [Vec<(f64, f64)>; 2] {
        let mut z = self.top();
        let (mut glass, mut gaps) = (Vec::new(), Vec::new());
        match &self.sash.measured.unit.build_up {
            BuildUp::Bare(thickness) => glass.push((z - thickness, z)),
            BuildUp::Panes { panes, cavities } => {
                for (index, pane) in panes.iter().enumerate() {
                    glass.push((z - pane.thickness(), z));
                    z -= pane.thickness();
                    if let Some(cavity) = cavities.get(index) {
                        gaps.push((z - cavity, z));
                        z -= cavity;
                    }
                }
            }
        }
        [glass, gaps]
    }

    fn unit_over(&self, glazing: &mut Glazing, daylight: f64) {
        let [glass, gaps] = self.stack();
        let reach = self.solid.inflate(daylight, 0.0);
        let across = |(from, to): (f64, f64), list: &[(f64, f64)]| -> Vec<Rect> {
            list.iter().map(|&(low, high)| Rect::new(from, low, to, high)).collect()
        };
        glazing.panes.extend(across((reach.x0, reach.x1), &glass));
        if let Some((from, to)) = self.internal_bar() {
            let shown = (from.max(reach.x0), to.min(reach.x1));
            glazing.spacers.extend(across(shown, &gaps));
        }
        glazing.bed.push(Rect::new(0.0, -self.fit.depth, self.solid.x1, self.floor()));
    }

    /// Where the unit's internal bar lies over this bar.
    fn internal_bar(&self) -> Option<(f64, f64)> {
        let Part::Bar(placed) = self.part else { return None };
        let bar = &placed.measured;
        // Behind cut-down bars lies one unit, its internal bars in the order of the glazing bars.
        let unit = self.fit.units.first()?;
        let internal = unit.bars.iter().find(|internal| internal.bar.index == placed.index)?;
        let edge = if bar.runs == Runs::Upright { unit.unit().x0 } else { unit.unit().y0 };
        let from_centre = edge + self.sash.measured.unit.tape + internal.from_edge - bar.centre;
        let centre = settled(from_centre + bar.width / 2.0);
        Some((centre - internal.width / 2.0, centre + internal.width / 2.0))
    }

    fn unit_end(&self, glazing: &mut Glazing, end: &End, daylight: f64) {
        let unit = &self.sash.measured.unit;
        let (wall, cover) = (end.wall, end.cover);
        let [glass, gaps] = self.stack();
        let (floor, top) = (self.floor(), self.top());
        let place =
            |x0: f64, y0: f64, x1: f64, y1: f64| self.facing(end.side, Rect::new(x0, y0, x1, y1));
        let glass_edge = cover - unit.tape;
        let shown = -daylight + glass_edge.min(0.0);
        glazing.panes.extend(glass.iter().map(|&(low, high)| place(shown, low, glass_edge, high)));
        let seal = (glass_edge - unit.spacer_height).max(shown);
        glazing.spacers.extend(gaps.iter().map(|&(low, high)| place(seal, low, glass_edge, high)));
        glazing.tape.push(place(glass_edge, floor, cover, top));
        glazing.bed.push(place(0.0, -self.fit.depth, cover, floor));
        // Beside the bed as well: a block is as wide as unit and bed, and what is filled has no voids.
        let beside = place(cover, -self.fit.depth, wall, top);
        if end.side == Side::Bottom {
            glazing.blocks.push(beside);
        }
        let finish = &self.sash.measured.finish;
        if finish.fills_gap() {
            glazing.filled.push(beside);
        }
        if finish.water == Some(WaterOut::Drained) && !end.side.is_upright() && wall > SLOT[1] {
            glazing.drains.push(place(wall - SLOT[1], top, wall, top + finish.bead));
        }
        let kind = if finish.is_puttied() { &mut glazing.putty } else { &mut glazing.beads };
        kind.extend(self.closed_by(end));
    }

    /// The bead or the putty between unit and wall, as high as the finish says.
    fn closed_by(&self, end: &End) -> Option<BezPath> {
        let Facing { foot, shoulder, wall, height } =
            Facing::new(&self.sash.measured.finish, end.wall);
        if height <= COINCIDENT || wall - foot <= COINCIDENT {
            return None;
        }
        let (low, high) = (self.top(), self.top() + height);
        let mut shape = vec![(foot, low), (wall, low), (wall, high)];
        if wall - shoulder > COINCIDENT {
            shape.push((shoulder, high));
        }
        let mirrored = self.is_mirrored(end.side);
        let at = |(x, z)| Point::new(if mirrored { self.solid.x1 - x } else { x }, z);
        Some(closed(&shape.into_iter().map(at).collect::<Vec<_>>()))
    }
}
