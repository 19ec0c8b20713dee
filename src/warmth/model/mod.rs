//! A section of the sash as what conducts heat.
//!
//! Materials are laid over each other like cards: wood, what was cut from it, the unit and what holds it. Sloping
//! faces become steps whose film is as much less as the steps are longer. Films are those of plane surfaces all
//! over: EN ISO 10077-2 asks for less in the corner between glass and wood, which would be a little colder.

use super::Spacer;
use super::conduction::grid::{Fineness, lines};
use super::conduction::{Body, Field, Film};
use crate::geometry::{ROUNDING, corners};
use crate::glass::thermal::{Cavity, GLASS, Gas, Glazing, INSIDE, OUTSIDE};
use crate::section::Cross;
use crate::survey::{OldGlazing, Timber};
use kurbo::{Point, Rect, Shape, Vec2};

/// Glass from the sight edge to where nothing of the edge is felt, mm. EN ISO 10077-2: 190.
pub const GLASS_SHOWN: f64 = 190.0;

/// λ of softwood and hardwood, W/(m K). Belgian decree on the energy performance of buildings, annex VII (published).
pub const WOOD: (f64, f64) = (0.13, 0.18);

/// λ of sealant, tape and putty, W/(m K): that of polysulphide. EN ISO 10077-2, annex A (from memory).
const SEALANT: f64 = 0.40;

/// λ of the panel that stands for glass where the frame alone is looked at, W/(m K). EN ISO 10077-2 (from memory).
pub const PANEL: f64 = 0.035;

/// Emissivity of wood and sealant to an air gap between them. EN ISO 10077-2 (from memory).
const EMITS: f64 = 0.9;

/// Difference that an air gap is taken to have across it, K: so narrow a one stands still whatever it is.
const ACROSS: f64 = 10.0;

/// Σ d λ of the walls of a spacer's bar, W/K: of aluminium 2 × 0.35 mm × 160 W/(m K) (from memory), and the most that an
/// improved one may have (Belgian decree, annex VII, as EN ISO 10077-1: published).
const BAR: (f64, f64) = (0.112, 0.007);

/// What of the height of the edge seal is the bar, mm, at most; the rest is sealant (common practice, no source).
const BAR_HIGH: f64 = 7.0;

/// What lies over what, and which way its faces slope.
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    cards: Vec<(Card, f64)>,
    /// Sloping faces.
    slopes: Vec<(Point, Point)>,
    /// Where the moulding ends.
    moulded: Vec<Point>,
    /// Open above and below the middle of the glass: outdoors and the room.
    middle: f64,
    bounds: Rect,
}

/// One card.
#[derive(Debug, Clone, PartialEq)]
enum Card {
    Rect(Rect),
    /// Corners of what bulges out everywhere, either way round.
    Convex(Vec<Point>),
    /// Wood above its room side, which runs from the left to the right.
    Wood(Rect, Vec<Point>),
}

/// Each corner with the one before it.
fn pairs(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    corners.iter().copied().zip(corners.iter().copied().skip(1))
}

impl Card {
    fn holds(&self, at: Point) -> bool {
        match self {
            Card::Rect(rect) => rect.contains(at),
            Card::Convex(corners) => {
                let closed =
                    pairs(corners).chain(corners.last().copied().zip(corners.first().copied()));
                let [mut left, mut right] = [false; 2];
                for (p, q) in closed {
                    let side = (q - p).cross(at - p);
                    left |= side > 0.0;
                    right |= side < 0.0;
                }
                left != right
            }
            Card::Wood(solid, surface) => {
                let beyond = surface.partition_point(|corner| corner.x <= at.x);
                let ends =
                    beyond.checked_sub(1).and_then(|p| surface.get(p)).zip(surface.get(beyond));
                let above =
                    |(p, q): (&Point, &Point)| at.y > p.lerp(*q, (at.x - p.x) / (q.x - p.x)).y;
                solid.contains(at) && ends.is_some_and(above)
            }
        }
    }

    fn corners(&self) -> Vec<Point> {
        match self {
            Card::Rect(rect) => corners(*rect).to_vec(),
            Card::Convex(corners) => corners.clone(),
            Card::Wood(solid, surface) => {
                let above = [(solid.x1, solid.y1), (solid.x0, solid.y1)];
                surface.iter().copied().chain(above.map(Point::from)).collect()
            }
        }
    }

    fn bounds(&self) -> Rect {
        match self {
            Card::Rect(rect) | Card::Wood(rect, _) => *rect,
            Card::Convex(corners) => {
                let first = corners.first().copied().unwrap_or_default();
                corners.iter().fold(Rect::from_points(first, first), |all, at| all.union_pt(*at))
            }
        }
    }
}

/// λ of an edge seal `high` mm high between panes `apart` mm apart as one block, W/(m K): the walls of its bar and the
/// sealant beside it, Σ d λ over its height.
pub fn edge_seal(spacer: Spacer, high: f64) -> f64 {
    let walls = match spacer {
        Spacer::Metal => BAR.0,
        Spacer::Improved => BAR.1,
    };
    let beside = (high - BAR_HIGH).max(0.0) / 1000.0 * SEALANT;
    (walls + beside) / (high / 1000.0)
}

/// λ of air that stands between two faces `apart` mm apart, W/(m K), with what it radiates.
fn still_air(apart: f64) -> f64 {
    let gap = Cavity { width: apart, filling: Gas::Air.filling(), emissivities: [EMITS, EMITS] };
    gap.conductance(ACROSS) * apart / 1000.0
}

/// λ of a timber, W/(m K).
pub(super) fn wood(timber: &Timber) -> f64 {
    if timber.species.hardwood { WOOD.1 } else { WOOD.0 }
}

impl Model {
    /// Wood, and still air in what was cut from it long ago.
    fn of_wood(cross: &Cross<'_>) -> Model {
        let surface = cross.blank().surface().to_vec();
        let (solid, moulding) = (cross.solid, cross.profile.path().bounding_box());
        let ends = [moulding.x1, solid.width() - moulding.x1];
        let ends = ends.into_iter().take(1 + usize::from(cross.is_bar()));
        let moulded = ends.map(|x| Point::new(x, solid.y0 + moulding.y1)).collect();
        let slopes = pairs(&surface).collect();
        let cards = vec![(Card::Wood(solid, surface), wood(&cross.sash.measured.timber))];
        let mut model = Model { cards, slopes, moulded, middle: 0.0, bounds: solid };
        for cut in cross.old_cuts() {
            model.lay(cut, still_air(cut.size().min_side()));
        }
        model
    }

    fn lay(&mut self, rect: Rect, conducts: f64) {
        self.cards.push((Card::Rect(rect), conducts));
    }

    fn lay_convex(&mut self, corners: Vec<Point>, conducts: f64) {
        self.slopes.extend(pairs(&corners));
        self.slopes.extend(corners.last().copied().zip(corners.first().copied()));
        self.cards.push((Card::Convex(corners), conducts));
    }

    /// The sash with its unit.
    pub fn after(cross: &Cross<'_>, glazing: &Glazing, spacer: Spacer) -> Model {
        let mut model = Model::with_bed(cross);
        let put = cross.glazing(GLASS_SHOWN);
        let resists = glazing.resistances();
        for pane in &put.panes {
            model.lay(*pane, GLASS);
        }
        let [_, gaps] = cross.stack();
        for ((low, high), resists) in gaps.into_iter().zip(resists) {
            let apart = (high - low) / 1000.0;
            for pane in put.panes.iter().filter(|pane| (pane.y1 - low).abs() < ROUNDING) {
                model.lay(Rect::new(pane.x0, low, pane.x1, high), apart / resists);
            }
        }
        for seal in &put.spacers {
            let high = cross.sash.measured.unit.spacer_height;
            model.lay(*seal, edge_seal(spacer, high.min(seal.width())));
        }
        model.bound()
    }

    /// The sash with a panel that lets hardly any heat through, for its wood alone.
    pub fn with_panel(cross: &Cross<'_>) -> Model {
        let mut model = Model::with_bed(cross);
        let put = cross.glazing(GLASS_SHOWN);
        let reaches = |pane: &Rect| (pane.x0, pane.x1);
        let mut ends: Vec<(f64, f64)> = put.panes.iter().map(reaches).collect();
        ends.dedup();
        for (from, to) in ends {
            model.lay(Rect::new(from, cross.floor(), to, cross.top()), PANEL);
        }
        model.bound()
    }

    /// Wood, the gaps round the unit, bed, tape and beads.
    fn with_bed(cross: &Cross<'_>) -> Model {
        let mut model = Model::of_wood(cross);
        let (floor, top) = (cross.floor(), cross.top());
        model.middle = f64::midpoint(floor, top);
        for cut in cross.new_cuts() {
            model.lay(cut, 0.0);
            let clearance = cross.ends.iter().map(|end| end.wall - end.cover).fold(0.0, f64::max);
            if clearance > 0.0 {
                let filled = cross.sash.measured.finish.fills_gap();
                let in_gap = if filled { SEALANT } else { still_air(clearance) };
                model.lay(Rect::new(cut.x0, cut.y0, cut.x1, top), in_gap);
            }
        }
        let put = cross.glazing(GLASS_SHOWN);
        for rect in put.bed.iter().chain(&put.tape) {
            model.lay(*rect, SEALANT);
        }
        let of_bead = wood(&cross.sash.measured.timber);
        let beads = put.beads.iter().map(|bead| (bead, of_bead));
        for (closes, conducts) in beads.chain(put.putty.iter().map(|putty| (putty, SEALANT))) {
            let ends = closes.elements().iter().filter_map(kurbo::PathEl::end_point);
            model.lay_convex(ends.collect(), conducts);
        }
        model
    }

    /// The sash as it was, with single panes `thick` mm in putty.
    pub fn before(cross: &Cross<'_>, thick: f64) -> Model {
        let mut model = Model::of_wood(cross);
        let sides = if cross.is_bar() { vec![false, true] } else { vec![false] };
        let width = cross.solid.width();
        let old = cross.sash.old_glazing(cross.part);
        for mirrored in sides {
            let x = |at: f64| if mirrored { width - at } else { at };
            let rect = |x0: f64, y0: f64, x1: f64, y1: f64| Rect::new(x(x0), y0, x(x1), y1).abs();
            let (low, wall) = match old {
                OldGlazing::Rebate { width, depth } => {
                    model.lay(rect(0.0, -depth, width, 0.0), 0.0);
                    model.lay(rect(0.0, -depth, width, thick - depth), SEALANT);
                    let face =
                        [(x(0.0), thick - depth), (x(width), thick - depth), (x(width), 0.0)];
                    model.lay_convex(face.map(Point::from).to_vec(), SEALANT);
                    (-depth, width)
                }
                OldGlazing::Groove { from_face, width, depth } => {
                    model.lay(rect(0.0, -from_face - width, depth, -from_face), SEALANT);
                    (-from_face - width / 2.0 - thick / 2.0, depth)
                }
            };
            model.lay(rect(-GLASS_SHOWN, low, OLD_COVER * wall, low + thick), GLASS);
            model.middle = low + thick / 2.0;
        }
        model.bound()
    }

    /// The model once everything is laid.
    fn bound(mut self) -> Model {
        let all = self.cards.iter().map(|(card, _)| card.bounds());
        self.bounds = all.fold(self.bounds, |a, b| a.union(b));
        self.slopes.retain(|(p, q)| {
            let along: Vec2 = *q - *p;
            along.x.abs() > LEVEL && along.y.abs() > LEVEL
        });
        self
    }

    /// Corners of the glass, and of what seals it.
    pub fn drawn(&self) -> [Vec<Vec<Point>>; 2] {
        [GLASS, SEALANT].map(|wanted| {
            let own =
                self.cards.iter().filter(|(_, conducts)| (conducts - wanted).abs() < ROUNDING);
            own.map(|(card, _)| card.corners()).collect()
        })
    }

    /// λ of what lies uppermost at a place, W/(m K); 0 where there is nothing.
    pub fn conductivity(&self, at: Point) -> f64 {
        self.cards
            .iter()
            .rev()
            .find(|(card, _)| card.holds(at))
            .map_or(0.0, |(_, conducts)| *conducts)
    }

    /// The section on a grid.
    pub fn body(&self, fineness: Fineness) -> Body {
        // Not of every chord of a moulding.
        let corners = self.cards.iter().flat_map(|(card, _)| {
            if let Card::Wood(Rect { x0, y0, x1, y1 }, _) = card {
                vec![Point::new(*x0, *y0), Point::new(*x1, *y1)]
            } else {
                card.corners()
            }
        });
        let corners: Vec<Point> = corners.chain(self.moulded.iter().copied()).collect();
        let (xs, ys) = (corners.iter().map(|at| at.x), corners.iter().map(|at| at.y));
        let (xs, ys) = (lines(xs, fineness), lines(ys, fineness));
        let middles = |all: &[f64]| -> Vec<f64> {
            all.iter().zip(all.iter().skip(1)).map(|(a, b)| f64::midpoint(*a, *b)).collect()
        };
        let (across, up) = (middles(&xs), middles(&ys));
        let cells =
            across.iter().flat_map(|x| up.iter().map(|y| self.conductivity(Point::new(*x, *y))));
        Body { conductivity: cells.collect(), xs, ys }
    }

    /// Temperatures between 0 outdoors and 1 in the room; heat is the thermal coupling L2D, W/(m K).
    pub fn solve(&self, body: &Body) -> Option<Field> {
        body.solve(|at, out| {
            let ends =
                (at.x - self.bounds.x0).abs() < LEVEL || (at.x - self.bounds.x1).abs() < LEVEL;
            if ends && out.x != 0.0 {
                return None;
            }
            let (conductance, temperature) =
                if at.y < self.middle { (INSIDE, 1.0) } else { (OUTSIDE, 0.0) };
            Some(Film { conductance: conductance * self.steps(at), temperature })
        })
    }

    /// How much shorter a sloping face is than the steps that stand for it; 1 of one that does not slope.
    fn steps(&self, at: Point) -> f64 {
        let off = |&(p, q): &(Point, Point)| {
            let along = q - p;
            let share = (at - p).dot(along) / along.hypot2();
            // What lies past an end is no step of this slope.
            let past = (share - share.clamp(0.0, 1.0)).abs() * along.hypot();
            if past > END { f64::INFINITY } else { (at - p.lerp(q, share)).hypot() }
        };
        let near = self.slopes.iter().map(|slope| (off(slope), slope));
        let nearest = near.filter(|(off, _)| *off < STEP).min_by(|a, b| a.0.total_cmp(&b.0));
        nearest.map_or(1.0, |(_, (p, q))| {
            let along = *q - *p;
            along.hypot() / (along.x.abs() + along.y.abs())
        })
    }
}

/// A face this near to a slope is one of its steps, mm. No length that comes off a rule, so that rounding decides
/// nothing.
const STEP: f64 = 1.013;

/// Past the end of a slope by more, a face belongs to what follows, mm. As above no length off a rule.
const END: f64 = 0.107;

/// Faces that run off by less are level or upright, mm.
const LEVEL: f64 = 1e-6;

/// How far the old pane reached into its rebate, of its width (common practice, no source: 2 mm short of 9).
const OLD_COVER: f64 = 0.8;

#[cfg(test)]
mod tests;
