//! The wood as samples: a grid, closer beside every edge of the wood.

use super::path::{Path, Place, apart};
use crate::support::rectangles::rectangles;
use fillister::rebate::Rebate;
use std::collections::BTreeMap;

/// From an edge of the wood to the samples beside it, on either side, mm. The first is as good as the
/// edge; the first and the second lie nearer than a tolerance of 0.05 mm even across the edge; the
/// first and the third span all but a hundredth of the 0.09 mm that are surely too wide.
const BESIDE: [f64; 3] = [0.01, 0.035, 0.09];

/// Upright piece of wood at a sample.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Layer {
    top: f64,
    bottom: f64,
    goes: bool,
}

/// Wood at a sample, from the top down.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Column(Vec<Layer>);

impl Column {
    /// Z of the highest wood once everything above `cut` is gone.
    pub(super) fn surface(&self, cut: f64) -> Option<f64> {
        self.0.iter().find(|layer| layer.bottom < cut).map(|layer| layer.top.min(cut))
    }

    /// Z of the highest wood that must stay.
    fn stays(&self) -> f64 {
        self.0.iter().find(|layer| !layer.goes).map_or(f64::NEG_INFINITY, |layer| layer.top)
    }

    /// Height of what must go and still stands.
    fn unfinished(&self, cut: f64) -> f64 {
        let going = || self.0.iter().filter(|layer| layer.goes);
        match (going().next(), going().next_back()) {
            (Some(first), Some(last)) => first.top.min(cut) - last.bottom,
            _ => 0.0,
        }
    }
}

/// What a place owes to the fillet that a round cutter leaves in a corner.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
enum Fillet {
    Outside,
    Beside,
    Inside,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Sample {
    pub(super) x: f64,
    column: usize,
    pub(super) stays: f64,
    fillet: Fillet,
    /// Index of its X.
    ix: usize,
}

/// The samples that hold wood, row by row.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wood {
    pub(super) samples: Vec<Sample>,
    columns: Vec<Column>,
    pub(super) ys: Vec<f64>,
    /// Where each row begins among the samples; one more than rows.
    pub(super) rows: Vec<usize>,
    xs: Vec<f64>,
    /// Index of the sample at an X and Y, where there is wood.
    at: Vec<Option<u32>>,
    pub(super) pitch: f64,
}

/// What must go and still stands: surely, perhaps, or not at all.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub(super) enum Left {
    Nothing,
    Perhaps(Place),
    Surely(Place),
}

/// Every rectangle of wood, by its sides.
fn solids(rebate: &Rebate) -> Vec<([f64; 4], Layer)> {
    [(&rebate.go, true), (&rebate.stay, false)]
        .into_iter()
        .flat_map(|(solids, goes)| solids.iter().map(move |solid| (solid, goes)))
        .flat_map(|(solid, goes)| {
            let layer = Layer { top: solid.top, bottom: solid.bottom, goes };
            let parts = rectangles(&solid.region, &solid.name.to_string()).into_iter();
            parts.map(move |part| ([part.x0, part.x1, part.y0, part.y1], layer))
        })
        .collect()
}

/// Distance of samples where the referee looks again, mm, and how many of them on either side of a place.
const CLOSER: f64 = 0.02;
const CLOSE: i32 = 40;

/// Widest gap between samples where corners are, mm: what a cutter meets in a corner is a crescent
/// some millimetres long; one deeper than 0.015 mm holds more than a square of this side.
const IN_CORNERS: f64 = 0.1;

/// Samples along one axis: a grid of `pitch`, coarser by four outside `near`, closer within `corners`,
/// and beside each edge.
fn along(mut edges: Vec<f64>, near: (f64, f64), corners: &[(f64, f64)], pitch: f64) -> Vec<f64> {
    edges.sort_by(f64::total_cmp);
    edges.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let mut all: Vec<f64> =
        edges.iter().flat_map(|e| BESIDE.map(|d| [e - d, e + d])).flatten().collect();
    let mut at = edges[0] + pitch / 2.0;
    while at < edges[edges.len() - 1] {
        if edges.iter().all(|edge| (edge - at).abs() > BESIDE[2] + 0.02) {
            all.push(at);
        }
        at += if corners.iter().any(|&(from, to)| at > from - pitch && at < to) {
            IN_CORNERS.min(pitch)
        } else if at > near.0 && at < near.1 {
            pitch
        } else {
            4.0 * pitch
        };
    }
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    all
}

impl Wood {
    pub(super) fn new(rebate: &Rebate, radius: f64, pitch: f64) -> Wood {
        let solids = solids(rebate);
        let walls: Vec<_> = rebate.pockets.iter().map(|pocket| pocket.wall.bounds()).collect();
        let all = walls.iter().copied().reduce(|a, b| a.union(b)).unwrap().inset(radius + 1.0);
        let edges = |a: usize| solids.iter().flat_map(|(r, _)| [r[a], r[a + 1]]).collect();
        let ends = |from: f64, to: f64| [(from, from + radius), (to - radius, to)];
        let at_x: Vec<_> = walls.iter().flat_map(|w| ends(w.x0, w.x1)).collect();
        let at_y: Vec<_> = walls.iter().flat_map(|w| ends(w.y0, w.y1)).collect();
        let xs = along(edges(0), (all.x0, all.x1), &at_x, pitch);
        let ys = along(edges(2), (all.y0, all.y1), &at_y, pitch);
        Wood::sampled(rebate, radius, pitch, xs, ys)
    }

    /// The wood close around places, in a grid of a fiftieth of a millimetre.
    pub(super) fn around(rebate: &Rebate, radius: f64, places: &[Place]) -> Wood {
        let close = |of: fn(&Place) -> f64| {
            let beside = |at: f64| (-CLOSE..=CLOSE).map(move |n| at + CLOSER * f64::from(n));
            let mut all: Vec<f64> = places.iter().map(of).flat_map(beside).collect();
            all.sort_by(f64::total_cmp);
            all.dedup_by(|a, b| (*a - *b).abs() < CLOSER / 2.0);
            all
        };
        Wood::sampled(rebate, radius, CLOSER, close(|at| at.0), close(|at| at.1))
    }

    fn sampled(rebate: &Rebate, radius: f64, pitch: f64, xs: Vec<f64>, ys: Vec<f64>) -> Wood {
        let solids = solids(rebate);
        let walls = rebate.pockets.iter().map(|pocket| pocket.wall.bounds());
        let corners: Vec<(Place, Place)> = walls
            .flat_map(|w| {
                let (a, b) = ((w.x0, 1.0), (w.x1, -1.0));
                let (c, d) = ((w.y0, 1.0), (w.y1, -1.0));
                [(a, c), (b, c), (b, d), (a, d)].map(|(x, y)| ((x.0, y.0), (x.1, y.1)))
            })
            .collect();
        let mut known: BTreeMap<Vec<usize>, usize> = BTreeMap::new();
        let mut wood = Wood {
            samples: Vec::new(),
            columns: Vec::new(),
            rows: vec![0],
            at: Vec::with_capacity(xs.len() * ys.len()),
            xs,
            ys,
            pitch,
        };
        for &y in &wood.ys {
            let in_row: Vec<usize> =
                (0..solids.len()).filter(|&i| solids[i].0[2] < y && y < solids[i].0[3]).collect();
            for (ix, &x) in wood.xs.iter().enumerate() {
                let here = |&&i: &&usize| solids[i].0[0] < x && x < solids[i].0[1];
                let here: Vec<usize> = in_row.iter().filter(here).copied().collect();
                if here.is_empty() {
                    wood.at.push(None);
                    continue;
                }
                let column = *known.entry(here.clone()).or_insert_with(|| {
                    let mut layers: Vec<Layer> = here.iter().map(|&i| solids[i].1).collect();
                    layers.sort_by(|a, b| b.top.total_cmp(&a.top));
                    wood.columns.push(Column(layers));
                    wood.columns.len() - 1
                });
                let stays = wood.columns[column].stays();
                let fillet = fillet((x, y), &corners, radius);
                wood.at.push(u32::try_from(wood.samples.len()).ok());
                wood.samples.push(Sample { x, column, stays, fillet, ix });
            }
            wood.rows.push(wood.samples.len());
        }
        wood
    }

    pub(super) fn column(&self, sample: &Sample) -> &Column {
        &self.columns[sample.column]
    }

    /// How far a bite beside the samples may go unseen, mm: from an edge to its first sample, in a
    /// corner along the diagonal, and how far a cutter bulges in between two samples.
    pub(super) fn unseen(&self, radius: f64) -> f64 {
        BESIDE[0] * 1.5 + self.pitch * self.pitch / (8.0 * radius)
    }

    /// Rows and samples within reach of the path.
    pub(super) fn near(
        &self,
        path: &Path,
        radius: f64,
    ) -> impl Iterator<Item = (f64, usize, usize)> {
        let [x0, x1, y0, y1] = path.around();
        let from = self.ys.partition_point(|&y| y <= y0 - radius);
        let to = self.ys.partition_point(|&y| y < y1 + radius);
        (from..to.max(from)).map(move |row| {
            let (begin, end) = (self.rows[row], self.rows[row + 1]);
            let in_row = &self.samples[begin..end];
            let first = begin + in_row.partition_point(|sample| sample.x <= x0 - radius);
            (self.ys[row], first, begin + in_row.partition_point(|s| s.x < x1 + radius))
        })
    }

    /// Z of the highest wood at the sample nearest to a place, once everything above `heights` is gone.
    pub(super) fn surface_at(&self, at: Place, heights: &[f32]) -> Option<f64> {
        let nearest = |all: &[f64], value: f64| {
            let next = all.partition_point(|&at| at < value).clamp(1, all.len() - 1);
            if value - all[next - 1] < all[next] - value { next - 1 } else { next }
        };
        let index = self.index(nearest(&self.ys, at.1), nearest(&self.xs, at.0))?;
        self.column(&self.samples[index]).surface(f64::from(heights[index]))
    }

    /// Whether the cutter at a place is over wood, cut or not.
    pub(super) fn is_under(&self, path: &Path, radius: f64) -> bool {
        self.near(path, radius).any(|(y, from, to)| {
            self.samples[from..to].iter().any(|sample| path.distance((sample.x, y)) < radius)
        })
    }

    /// Judges what must go and still stands, the wood being cut down to `cuts`.
    pub(super) fn left(&self, cuts: &[f32], tolerance: f64) -> Left {
        let stands = |index: usize, fillet: Fillet, least: f64| {
            let sample = &self.samples[index];
            sample.fillet <= fillet
                && self.columns[sample.column].unfinished(f64::from(cuts[index])) > least
        };
        let perhaps = |i: usize| stands(i, Fillet::Beside, tolerance - 0.005);
        let surely = |i: usize| stands(i, Fillet::Outside, tolerance + 0.005);
        let mut found = Left::Nothing;
        for (row, ends) in self.rows.windows(2).enumerate() {
            for index in ends[0]..ends[1] {
                let place = || (self.samples[index].x, self.ys[row]);
                if surely(index) && self.block(row, index, 1.6 * tolerance, &surely) {
                    return Left::Surely(place());
                }
                if found == Left::Nothing
                    && perhaps(index)
                    && self.thick(row, index, tolerance, &perhaps)
                {
                    found = Left::Perhaps(place());
                }
            }
        }
        found
    }

    fn index(&self, row: usize, ix: usize) -> Option<usize> {
        let at = self.at.get(row * self.xs.len() + ix).filter(|_| ix < self.xs.len())?;
        at.and_then(|at| usize::try_from(at).ok())
    }

    /// Whether a square of side `side`, upwards and to the right of the sample, holds wood in every
    /// sample.
    fn block(&self, row: usize, index: usize, side: f64, stands: &dyn Fn(usize) -> bool) -> bool {
        let first = self.samples[index].ix;
        // A hair less: distances of samples carry rounding.
        let beyond = |all: &[f64], from: usize| {
            (from..all.len()).find(|&i| all[i] - all[from] >= side - 1e-6)
        };
        let (Some(right), Some(up)) = (beyond(&self.xs, first), beyond(&self.ys, row)) else {
            return false;
        };
        (row..=up).all(|row| (first..=right).all(|ix| self.index(row, ix).is_some_and(stands)))
    }

    /// Whether what stands at the sample may be wider than `least` both ways: from the last sample
    /// without to the next.
    fn thick(&self, row: usize, index: usize, least: f64, stands: &dyn Fn(usize) -> bool) -> bool {
        let ix = self.samples[index].ix;
        let at = |row: usize, ix: usize| self.index(row, ix).is_some_and(stands);
        let width = {
            let from = (0..ix).rev().find(|&i| !at(row, i)).map_or(f64::MIN, |i| self.xs[i]);
            let to = (ix..self.xs.len()).find(|&i| !at(row, i)).map_or(f64::MAX, |i| self.xs[i]);
            to - from
        };
        let from = (0..row).rev().find(|&i| !at(i, ix)).map_or(f64::MIN, |i| self.ys[i]);
        let to = (row..self.ys.len()).find(|&i| !at(i, ix)).map_or(f64::MAX, |i| self.ys[i]);
        width > least && to - from > least
    }
}

/// Fillets of all corners; each corner with the way into the pocket.
fn fillet(at: Place, corners: &[(Place, Place)], radius: f64) -> Fillet {
    let mut most = Fillet::Outside;
    for &(corner, inwards) in corners {
        let (x, y) = ((at.0 - corner.0) * inwards.0, (at.1 - corner.1) * inwards.1);
        let within = |slack: f64| {
            x.min(y) >= 0.0
                && x.max(y) <= radius + slack
                && apart((x, y), (radius, radius)) >= radius - slack
        };
        if within(0.04) {
            return Fillet::Inside;
        }
        if within(0.12) {
            most = Fillet::Beside;
        }
    }
    most
}
