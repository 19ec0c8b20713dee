//! The sections of a sash: each stile, rail and bar with the unit that comes to sit in it.

use super::{Glazing, Label, Measure, Notes, Section, grid};
use crate::fit::{Fit, UnitFit};
use crate::geometry::{SAME, Side};
use crate::sash::{Part, Profile, Sash};
use crate::survey::{BuildUp, OldGlazing, Runs};
use kurbo::{Affine, BezPath, Point, Rect, Shape};

/// How much glass is shown beyond the sight edge, mm.
const DAYLIGHT: f64 = 14.0;

/// The section of every stile, rail and bar that a unit touches, in the order of the survey.
pub fn sections(sash: &Sash, fit: &Fit) -> Vec<Section> {
    let members = Side::ALL.into_iter().map(Part::Member);
    let bars = (0..sash.measured.bars.len()).map(Part::Bar);
    members.chain(bars).map(|part| Cross::new(sash, fit, part).section()).collect()
}

/// Stretches of Z, lower end first.
type Stretches = Vec<(f64, f64)>;

/// A part cut across: X from its lower or left sight edge, for a member from its only one.
struct Cross<'a> {
    sash: &'a Sash,
    fit: &'a Fit,
    part: Part,
    /// The part without cut or moulding.
    solid: Rect,
    profile: Profile,
    /// Each unit that ends in this part, with the side on which the part holds it.
    ends: Vec<(&'a UnitFit, Side)>,
}

impl<'a> Cross<'a> {
    fn new(sash: &'a Sash, fit: &'a Fit, part: Part) -> Cross<'a> {
        let (thickness, profile) = sash.section_of(part);
        let measured = &sash.measured;
        let width = match part {
            Part::Member(side) => measured.members.get(side).width,
            Part::Bar(index) => measured.bars.get(index).map_or(0.0, |bar| bar.width),
        };
        let mut ends: Vec<(&UnitFit, Side)> = Vec::new();
        for side in Side::ALL {
            let beside = |unit: &&UnitFit| sash.beside(unit.sight, side).0 == part;
            ends.extend(fit.units.iter().find(beside).map(|unit| (unit, side)));
        }
        let solid = Rect::new(0.0, -thickness, width, 0.0);
        Cross { sash, fit, part, solid, profile, ends }
    }

    /// Whether the unit runs on over the part: a bar cut down behind one unit.
    fn runs_over(&self) -> bool {
        self.ends.is_empty()
    }

    /// `rect`, given from the sight edge inwards, as it lies in the section.
    fn facing(&self, side: Side, rect: Rect) -> Rect {
        // A bar holds what lies to its left on its own left edge: the unit's right side. The frame
        // has only one sight edge, drawn at the left.
        let mirrored =
            matches!(self.part, Part::Bar(_)) && matches!(side, Side::Left | Side::Bottom);
        let width = self.solid.width();
        if mirrored { Rect::new(width - rect.x1, rect.y0, width - rect.x0, rect.y1) } else { rect }
    }

    fn old_cuts(&self) -> Vec<Rect> {
        match self.part {
            Part::Member(side) => vec![old_cut(&self.sash.measured.members.get(side).old)],
            Part::Bar(index) => {
                let bar = self.sash.measured.bars.get(index);
                let cut = bar.map_or(Rect::ZERO, |bar| {
                    Rect::new(0.0, -bar.rebate_depth, bar.rebate_width, 0.0)
                });
                vec![self.facing(Side::Right, cut), self.facing(Side::Left, cut)]
            }
        }
    }

    fn new_cuts(&self) -> Vec<Rect> {
        let depth = self.fit.depth;
        if self.runs_over() {
            return vec![Rect::new(0.0, -depth, self.solid.x1, 0.0)];
        }
        let cut = |&(unit, side): &(&UnitFit, Side)| {
            self.facing(side, Rect::new(0.0, -depth, *unit.rebate_width.get(side), 0.0))
        };
        self.ends.iter().map(cut).collect()
    }

    /// Rings of wood as paths, with the moulding in place of the room-side arris.
    fn moulded(&self, rings: Vec<Vec<Point>>) -> Vec<BezPath> {
        let solid = self.solid;
        let at_left = Affine::translate((0.0, solid.y0)) * self.profile.path().clone();
        let mirror = Affine::new([-1.0, 0.0, 0.0, 1.0, solid.x1, 0.0]);
        let at_right = (mirror * at_left.clone()).reverse_subpaths();
        let is_bar = matches!(self.part, Part::Bar(_));
        let (left, right) = (Point::new(0.0, solid.y0), Point::new(solid.x1, solid.y0));
        let near = |a: Point, b: Point| (a - b).hypot() <= SAME;
        rings
            .into_iter()
            .map(|ring| {
                let mut path = BezPath::new();
                for corner in ring {
                    if near(corner, left) {
                        join(&mut path, &at_left);
                    } else if is_bar && near(corner, right) {
                        join(&mut path, &at_right);
                    } else {
                        line_to(&mut path, corner);
                    }
                }
                path.close_path();
                path
            })
            .collect()
    }

    fn glazing(&self) -> Glazing {
        let mut glazing = Glazing::default();
        if self.runs_over() {
            self.unit_over(&mut glazing);
        }
        for &(unit, side) in &self.ends {
            self.unit_end(&mut glazing, unit, side);
        }
        glazing
    }

    /// Z of the unit's room-side surface.
    fn floor(&self) -> f64 {
        self.sash.measured.finish.bed - self.fit.depth
    }

    /// Panes and cavities as stretches of Z; a unit of which only the thickness is known is one pane.
    fn stack(&self) -> (Stretches, Stretches) {
        let build_up = &self.sash.measured.unit.build_up;
        let mut z = self.floor() + build_up.thickness();
        let (mut glass, mut gaps) = (Vec::new(), Vec::new());
        match build_up {
            BuildUp::Bare(thickness) => glass.push((z - thickness, z)),
            BuildUp::Panes { panes, cavities } => {
                for (index, pane) in panes.iter().enumerate() {
                    glass.push((z - pane, z));
                    z -= pane;
                    if let Some(cavity) = cavities.get(index) {
                        gaps.push((z - cavity, z));
                        z -= cavity;
                    }
                }
            }
        }
        (glass, gaps)
    }

    fn unit_over(&self, glazing: &mut Glazing) {
        let (glass, gaps) = self.stack();
        let reach = self.solid.inflate(DAYLIGHT, 0.0);
        glazing
            .panes
            .extend(glass.iter().map(|&(low, high)| Rect::new(reach.x0, low, reach.x1, high)));
        if let Some((from, to)) = self.internal_bar() {
            glazing.spacers.extend(gaps.iter().map(|&(low, high)| Rect::new(from, low, to, high)));
        }
        glazing.bed.push(Rect::new(0.0, -self.fit.depth, self.solid.x1, self.floor()));
    }

    /// Where the unit's internal bar lies over this bar.
    fn internal_bar(&self) -> Option<(f64, f64)> {
        let Part::Bar(index) = self.part else { return None };
        let bar = self.sash.measured.bars.get(index)?;
        let tape = self.sash.measured.unit.tape;
        self.fit
            .units
            .iter()
            .flat_map(|unit| unit.bars.iter().map(move |internal| (unit, internal)))
            .filter(|(_, internal)| internal.runs == bar.runs)
            .map(|(unit, internal)| {
                let edge = if bar.runs == Runs::Upright { unit.unit.x0 } else { unit.unit.y0 };
                let centre = edge + tape + internal.from_edge - bar.centre + bar.width / 2.0;
                (centre - internal.width / 2.0, centre + internal.width / 2.0)
            })
            .find(|(from, to)| *to > 0.0 && *from < bar.width)
    }

    fn unit_end(&self, glazing: &mut Glazing, unit: &UnitFit, side: Side) {
        let measured = &self.sash.measured;
        let (wall, cover) = (*unit.rebate_width.get(side), *unit.cover.get(side));
        let (glass, gaps) = self.stack();
        let top = self.floor() + measured.unit.build_up.thickness();
        let place =
            |x0: f64, y0: f64, x1: f64, y1: f64| self.facing(side, Rect::new(x0, y0, x1, y1));
        glazing.panes.extend(glass.iter().map(|&(low, high)| place(-DAYLIGHT, low, cover, high)));
        let seal = cover - measured.unit.spacer_height;
        glazing.spacers.extend(gaps.iter().map(|&(low, high)| place(seal, low, cover, high)));
        glazing.bed.push(place(0.0, -self.fit.depth, cover.max(0.1), self.floor()));
        if side == Side::Bottom && wall - cover > SAME {
            glazing.blocks.push(place(cover, self.floor(), wall, top));
        }
        let bead = top + measured.finish.bead;
        let shape = [(0.15, top), (1.0, top), (1.0, bead), (0.55, bead)];
        let corners =
            shape.map(|(share, z)| self.facing(side, Rect::new(share * wall, z, share * wall, z)));
        let mut path = BezPath::new();
        for corner in corners {
            line_to(&mut path, corner.origin());
        }
        path.close_path();
        glazing.beads.push(path);
    }

    fn section(&self) -> Section {
        let (old, new) = (self.old_cuts(), self.new_cuts());
        let all: Vec<Rect> = old.iter().chain(&new).copied().collect();
        let is_bar = matches!(self.part, Part::Bar(_));
        let name = self.sash.part_name(self.part);
        let taken = grid::taken(self.solid, &old, &new);
        let sight = if is_bar { vec![0.0, self.solid.x1] } else { vec![0.0] };
        Section {
            title: format!("{}, {name}", self.sash.measured.id),
            before: self.moulded(grid::outlines(self.solid, &old)),
            removed: self.moulded(taken.clone()),
            after: self.moulded(grid::outlines(self.solid, &all)),
            glazing: self.glazing(),
            sight,
            notes_before: self.notes_before(&old, &taken),
            notes_after: self.notes_after(),
        }
    }

    fn notes_before(&self, old: &[Rect], taken: &[Vec<Point>]) -> Notes {
        let solid = self.solid;
        let mut measures = vec![
            between((0.0, solid.y0), (solid.x1, solid.y0), Side::Bottom),
            between((solid.x1, solid.y0), (solid.x1, 0.0), Side::Right),
        ];
        if let Some(cut) = old.first().filter(|cut| cut.area() > 0.0) {
            measures.push(between((cut.x0, cut.y0), (cut.x1, cut.y0), Side::Top));
            // Of a groove, its own width; of a rebate, its depth.
            measures.push(between((cut.x0, cut.y0), (cut.x0, cut.y1), Side::Left));
        }
        let label = |at| Label { at, words: "wood to be cut away".into(), on_left: false };
        let labels = taken.iter().find_map(|ring| inside(ring)).map(label).into_iter().collect();
        Notes { measures, labels }
    }

    fn notes_after(&self) -> Notes {
        let (solid, depth) = (self.solid, self.fit.depth);
        let mut notes = Notes::default();
        let platform = Point::new(0.0, -depth);
        notes.measures.push(between((0.0, -depth), (0.0, 0.0), Side::Left));
        let under = solid.y0 + self.profile.height_at(0.0);
        if under < platform.y {
            notes.measures.push(between((0.0, under), (0.0, platform.y), Side::Left));
        }
        let mut walls: Vec<f64> = vec![0.0];
        for &(unit, side) in &self.ends {
            let wall = self.facing(side, Rect::new(0.0, 0.0, *unit.rebate_width.get(side), 0.0));
            walls.extend([wall.x0, wall.x1]);
        }
        walls.push(solid.x1);
        walls.sort_by(f64::total_cmp);
        walls.dedup_by(|a, b| (*a - *b).abs() <= SAME);
        let gaps = walls.windows(2).filter(|_| !self.runs_over());
        notes.measures.extend(gaps.filter_map(|pair| match pair {
            &[from, to] => Some(between((from, 0.0), (to, 0.0), Side::Top)),
            _ => None,
        }));
        let on_left = self.runs_over();
        notes.labels = self.names(on_left);
        notes
    }

    /// What is put in, named.
    fn names(&self, on_left: bool) -> Vec<Label> {
        let glazing = self.glazing();
        let unit = format!("unit {}", self.sash.measured.unit.build_up);
        let label =
            |at: Point, words: &str, on_left: bool| Label { at, words: words.into(), on_left };
        let middle = |rects: &[Rect]| rects.first().map(Rect::center);
        let mut labels = Vec::new();
        labels.extend(
            glazing.panes.first().map(|pane| {
                label(Point::new(pane.x0.min(0.0) + 5.0, pane.center().y), &unit, true)
            }),
        );
        labels.push(label(Point::new(0.0, self.solid.y0 + 1.0), "sight edge", true));
        let seal = if self.runs_over() { "internal bar" } else { "spacer" };
        labels.extend(middle(&glazing.spacers).map(|at| label(at, seal, on_left)));
        labels.extend(middle(&glazing.bed).map(|at| label(at, "bed", on_left)));
        labels.extend(middle(&glazing.blocks).map(|at| label(at, "setting block", on_left)));
        let bead = glazing.beads.first().map(|bead| bead.bounding_box().center());
        labels.extend(bead.map(|at| label(at, "bead", on_left)));
        labels
    }
}

/// A point inside the ring, near its corner furthest to the right.
fn inside(ring: &[Point]) -> Option<Point> {
    let corner = ring.iter().max_by(|a, b| a.x.total_cmp(&b.x))?;
    let mut path = BezPath::new();
    for &at in ring {
        line_to(&mut path, at);
    }
    path.close_path();
    let steps = [(-0.8, -2.0), (-0.8, 2.0), (-0.2, -0.2), (-0.2, 0.2)];
    let near = steps.map(|step| *corner + kurbo::Vec2::from(step));
    near.into_iter().find(|&at| path.winding(at) != 0)
}

fn old_cut(old: &OldGlazing) -> Rect {
    match *old {
        OldGlazing::Rebate { width, depth } => Rect::new(0.0, -depth, width, 0.0),
        OldGlazing::Groove { from_face, width, depth } => {
            Rect::new(0.0, -from_face - width, depth, -from_face)
        }
    }
}

fn between(from: (f64, f64), to: (f64, f64), side: Side) -> Measure {
    Measure { from: from.into(), to: to.into(), side, words: String::new() }
}

fn line_to(path: &mut BezPath, to: Point) {
    if path.elements().is_empty() { path.move_to(to) } else { path.line_to(to) }
}

/// Runs on along `piece`, which is one open curve.
fn join(path: &mut BezPath, piece: &BezPath) {
    for element in piece.elements() {
        match element {
            kurbo::PathEl::MoveTo(to) => line_to(path, *to),
            other => path.push(*other),
        }
    }
}
