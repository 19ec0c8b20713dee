//! Measures and labels of the sections of a sash.

use crate::drawing::ValueAt;
use crate::fit::{Facing, SLOT};
use crate::geometry::{COINCIDENT, Edge, Side};
use crate::number::{NotFinite, decimal};
use crate::sash::Part;
use crate::section::{Cross, End, Glazing};
use crate::sheets::kit::{Voice, mm, tell};
use crate::sheets::section::{Label, Measure, Notes};
use crate::survey::OldGlazing;
use crate::timber::Least;
use kurbo::{BezPath, Point, Rect, Shape, Vec2};

/// Wood that is cut away is pointed at this far from its corner, or nearer where it is thin, mm.
const STEPS: [(f64, f64); 6] =
    [(-0.8, -2.0), (-0.8, 2.0), (-0.2, -0.2), (-0.2, 0.2), (-0.02, -0.02), (-0.02, 0.02)];

impl Cross<'_> {
    pub(super) fn notes_before(&self, old: &[Rect], removed: &[BezPath], voice: Voice) -> Notes {
        let solid = self.solid;
        let mut measures = vec![
            between((0.0, solid.y0), (solid.x1, solid.y0), Side::Bottom),
            between((solid.x1, solid.y0), (solid.x1, 0.0), Side::Right),
        ];
        if let Some(cut) = old.first() {
            measures.push(between((cut.x0, cut.y0), (cut.x1, cut.y0), Side::Top));
            // Of a groove, its own width; of a rebate, its depth.
            measures.push(between((cut.x0, cut.y0), (cut.x0, cut.y1), Side::Left));
        }
        if let Part::Member(side) = self.part
            && let OldGlazing::Groove { from_face, .. } = self.sash.measured.members.get(side).old
        {
            measures.push(between((0.0, -from_face), (0.0, 0.0), Side::Left));
        }
        if let Some(groove) = self.cord_groove() {
            measures.push(between((groove.x0, groove.y0), (groove.x1, groove.y0), Side::Bottom));
        }
        if let Part::Bar(bar) = self.part {
            let bar = &bar.measured;
            let web = (bar.rebate_width, bar.width - bar.rebate_width);
            measures.push(saying(
                voice,
                "section-web",
                between((web.0, 0.0), (web.1, 0.0), Side::Top),
            ));
        }
        measures.retain(is_long_enough);
        let label = |at| Label { at, words: voice.word("section-removed"), on_left: false };
        let mut labels: Vec<Label> =
            removed.iter().find_map(inside).map(label).into_iter().collect();
        labels.extend(self.cord_groove().map(|groove| Label {
            at: groove.center(),
            words: voice.word("section-cord-groove"),
            on_left: false,
        }));
        Notes { measures, labels }
    }

    pub(super) fn notes_after(
        &self,
        glazing: &Glazing,
        least: Option<Least>,
        voice: Voice,
    ) -> Result<Notes, NotFinite> {
        let solid = self.solid;
        let platform = -self.fit.depth;
        let mut measures = vec![between((0.0, platform), (0.0, 0.0), Side::Left)];
        // The wood that `timber` has judged, where it is least.
        measures.extend(least.filter(|least| least.wood > 0.0).map(|least| {
            let x = least.from_sight;
            let from = solid.y0 + self.greatest_height(x);
            between((x, from), (x, from + least.wood), Side::Left)
        }));
        measures.extend(self.wood_beside(voice));
        for end in &self.ends {
            measures.extend(self.room(end, voice));
        }
        // Of a bar that holds two units both are as high.
        let one = self.ends.iter().find(|end| !self.is_mirrored(end.side));
        measures.extend(one.or(self.ends.first()).map(|end| self.closed_height(end)));
        measures.retain(is_long_enough);
        Ok(Notes { measures, labels: self.names(glazing, voice)? })
    }

    /// Height of the moulding over the room face, on either side of a bar.
    fn greatest_height(&self, x: f64) -> f64 {
        let near = self.profile.height_at(x);
        if self.is_bar() { near.max(self.profile.height_at(self.solid.x1 - x)) } else { near }
    }

    /// New rebate widths, and the wood beside or between them.
    fn wood_beside(&self, voice: Voice) -> Vec<Measure> {
        let across = |from: f64, to: f64| between((from, 0.0), (to, 0.0), Side::Top);
        let walls: Vec<Rect> = self
            .ends
            .iter()
            .map(|end| self.facing(end.side, Rect::new(0.0, 0.0, end.wall, 0.0)))
            .collect();
        let mut measures: Vec<Measure> =
            walls.iter().map(|wall| across(wall.x0, wall.x1)).collect();
        match walls.as_slice() {
            [wall] if !self.is_bar() => {
                // Where the groove runs there is less, if the cut reaches so deep that it lies beside it.
                let reached = self.cord_groove().filter(|groove| groove.y1 > -self.fit.depth);
                let edge = reached.map_or(self.solid.x1, |groove| groove.x0);
                measures.push(saying(voice, "section-beside", across(wall.x1, edge)));
            }
            [a, b] => {
                measures.push(saying(voice, "section-web", across(a.x1.min(b.x1), a.x0.max(b.x0))));
            }
            _ => {}
        }
        measures
    }

    /// Cover and clearance of a unit's edge.
    fn room(&self, end: &End, voice: Voice) -> [Measure; 2] {
        let across = |from: f64, to: f64| {
            let rect = self.facing(end.side, Rect::new(from, self.top(), to, self.top()));
            between((rect.x0, rect.y0), (rect.x1, rect.y1), Side::Top)
        };
        // Words towards daylight and wood, clear of the lines of wider measures.
        let (outwards, inwards) = if self.is_mirrored(end.side) {
            (ValueAt::AfterEnd, ValueAt::BeforeStart)
        } else {
            (ValueAt::BeforeStart, ValueAt::AfterEnd)
        };
        let cover = saying(voice, "section-cover", across(0.0, end.cover));
        let clearance = saying(voice, "section-clearance", across(end.cover, end.wall));
        [Measure { value_at: outwards, ..cover }, Measure { value_at: inwards, ..clearance }]
    }

    /// Height of bead or putty at the wall.
    fn closed_height(&self, end: &End) -> Measure {
        let (low, high) = (self.top(), self.top() + self.sash.measured.finish.bead);
        let rect = self.facing(end.side, Rect::new(end.wall, low, end.wall, high));
        let side = if self.is_mirrored(end.side) { Side::Left } else { Side::Right };
        between((rect.x0, low), (rect.x0, high), side)
    }

    /// The sight edge, with its radius where the moulding is swept along a curve.
    fn sight_edge(&self, voice: Voice) -> Result<String, NotFinite> {
        let mut radii: Vec<String> = Vec::new();
        for edge in self.sight_edges() {
            if let Edge::Arc(arc) = edge {
                let radius = mm(arc.radius)?;
                if !radii.contains(&radius) {
                    radii.push(radius);
                }
            }
        }
        Ok(match radii.as_slice() {
            [] => voice.word("section-sight-edge"),
            all => tell!(voice, "section-sight-edge-radius", radii = voice.listed(all)),
        })
    }

    fn sight_edges(&self) -> Vec<Edge> {
        match self.part {
            Part::Member(side) => self.sash.outline.edges_on(side).copied().collect(),
            Part::Bar(bar) => vec![bar.path],
        }
    }

    /// What is put in, named.
    fn names(&self, glazing: &Glazing, voice: Voice) -> Result<Vec<Label>, NotFinite> {
        let on_left = self.runs_over();
        let unit = tell!(voice, "section-unit", unit = self.sash.measured.unit.build_up);
        let label =
            |at: Point, words: &str, on_left: bool| Label { at, words: words.into(), on_left };
        // Of two, the one on the side of the labels.
        let order = if on_left { -1.0 } else { 1.0 };
        let towards = |rects: &[Rect]| {
            rects.iter().copied().max_by(|a, b| (order * a.x0).total_cmp(&(order * b.x0)))
        };
        let mut labels = Vec::new();
        labels.extend(
            glazing.panes.first().map(|pane| {
                label(Point::new(pane.x0.min(0.0) + 5.0, pane.center().y), &unit, true)
            }),
        );
        let sight = Point::new(0.0, self.solid.y0 + 1.0);
        labels.push(label(sight, &self.sight_edge(voice)?, true));
        let seal = if self.runs_over() { "section-internal-bar" } else { "section-spacer" };
        for (rects, key) in [(&glazing.spacers, seal), (&glazing.bed, "section-bed")] {
            let words = voice.word(key);
            labels.extend(towards(rects).map(|rect| label(rect.center(), &words, on_left)));
        }
        labels.extend(towards(&glazing.tape).map(|tape| {
            let at = Point::new(tape.center().x, tape.y0 + 0.15 * tape.height());
            label(at, &voice.word("section-edge-tape"), on_left)
        }));
        // Clear of the line that leads to the spacer beside it.
        labels.extend(towards(&glazing.blocks).map(|block| {
            let at = Point::new(block.center().x, block.y1 - 0.15 * block.height());
            label(at, &voice.word("section-setting-block"), on_left)
        }));
        labels.extend(
            towards(&glazing.filled_beside_blocks())
                .map(|gap| label(gap.center(), &voice.word("section-sealant"), on_left)),
        );
        let drains = self.ends.iter().any(|end| end.side == Side::Bottom);
        let key = if drains { "section-drain" } else { "section-air" };
        let slot = tell!(voice, key, width = mm(SLOT[0])?, height = mm(SLOT[1])?);
        labels.extend(towards(&glazing.drains).map(|at| label(at.center(), &slot, on_left)));
        let slope = |end: &End| Facing::new(&self.sash.measured.finish, end.wall).angle();
        let slope = decimal(self.ends.first().map_or(0.0, slope), 0)?;
        for (paths, words) in [
            (&glazing.beads, tell!(voice, "section-bead", slope)),
            (&glazing.putty, tell!(voice, "section-putty", slope)),
        ] {
            let all: Vec<Rect> = paths.iter().map(Shape::bounding_box).collect();
            // Beyond its middle, where the slope never is.
            labels.extend(towards(&all).map(|one| {
                label(
                    Point::new(one.center().x + order * 0.2 * one.width(), one.center().y),
                    &words,
                    on_left,
                )
            }));
        }
        Ok(labels)
    }
}

/// A point inside the path, near its corner furthest to the right.
fn inside(path: &BezPath) -> Option<Point> {
    let ends = path.elements().iter().filter_map(kurbo::PathEl::end_point);
    let corner = ends.max_by(|a, b| a.x.total_cmp(&b.x))?;
    let near = STEPS.map(|step| corner + Vec2::from(step));
    near.into_iter().find(|&at| path.winding(at) != 0)
}

fn between(from: (f64, f64), to: (f64, f64), side: Side) -> Measure {
    let (from, to) = (from.into(), to.into());
    Measure { from, to, side, words: String::new(), value_at: ValueAt::Middle }
}

fn saying(voice: Voice, key: &str, mut measure: Measure) -> Measure {
    measure.words = voice.word(key);
    measure
}

/// Whether there is something to measure; what runs backwards is no wood and no room.
fn is_long_enough(measure: &Measure) -> bool {
    let way = measure.to - measure.from;
    way.x + way.y > COINCIDENT
}
