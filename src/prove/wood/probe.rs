//! Questions to the wood that leave it as it is.

use super::Part;
use super::field::{Field, Tallest};
use crate::geometry::{COINCIDENT, Edge};
use crate::prove::motion::Move;
use crate::prove::tolerance::ROUNDING;
use crate::prove::wood::chord::{SweptPath, overlap};
use crate::prove::wood::row::{Layer, Row, Span, UncutWood};
use kurbo::{Point, Vec2};

/// Samples across a cutter where its path is neither level nor upright on the plan.
const SAMPLES: u32 = 24;

/// A place on the path of a cutter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::prove) struct Station {
    pub at: Point,
    /// Which way the path runs there, a unit vector.
    pub along: Vec2,
    /// Of the tip.
    pub z: f64,
}

impl Station {
    /// That at a share of a move.
    pub(in crate::prove) fn of(mv: &Move, share: f64) -> Station {
        Station { at: mv.path.at(share), along: mv.path.direction(share), z: mv.z_at(share) }
    }
}

/// Wood above the tip across the path of a cutter.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(in crate::prove) struct Slice {
    /// Its width, mm.
    pub width: f64,
    /// Its area, mm².
    pub area: f64,
}

impl Slice {
    fn add(&mut self, width: f64, height: f64) {
        if width > 0.0 && height > 0.0 {
            self.width += width;
            self.area += width * height;
        }
    }
}

/// Volumes of wood cut away, mm³, by what might happen to it.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(in crate::prove) struct Removed {
    /// Of what must go.
    pub go: f64,
    /// Of what may go.
    pub may_go: f64,
    /// Of what must stay.
    pub stay: f64,
}

impl Field {
    /// How much wood has been cut away so far.
    pub(in crate::prove) fn removed(&self) -> Removed {
        let mut removed = Removed::default();
        for row in &self.rows {
            for (begin, stretch) in row.iter() {
                if stretch.cut == f64::INFINITY {
                    continue;
                }
                let width = stretch.end - begin;
                for layer in self.stacks.get(stretch.stack).map_or(&[][..], Vec::as_slice) {
                    let depth = mean_depth(layer, stretch.cut_at(begin), stretch.cut);
                    let volume = width * row.height * depth;
                    match layer.part {
                        Part::Go(_) => removed.go += volume,
                        Part::MayGo => removed.may_go += volume,
                        Part::Stay => removed.stay += volume,
                    }
                }
            }
        }
        removed
    }

    /// The tallest wood above `z` under a disc of `radius` along `path`.
    pub(in crate::prove) fn under(&self, path: &Edge, radius: f64, z: f64) -> Option<Tallest> {
        let swept = SweptPath::new(path, radius);
        let range = self.within(path, radius);
        self.effort.spend(1 + 2 * range.len());
        // Not even a film may touch it.
        let uncut = UncutWood { stacks: &self.stacks, film: 0.0 };
        let mut most = None;
        for row in self.rows.get(range).unwrap_or_default() {
            for &chord in swept.chords(row.y).as_slice() {
                let met = row.tallest(uncut, row.first(chord.0), &Span::level(chord, z), 0.0);
                let met = met.map(|(height, x)| Tallest { height, at: Point::new(x, row.y) });
                most = Tallest::taller(most, met);
            }
        }
        most
    }

    /// Every row that a disc of `radius` passes over along `path`, however short that is beside the height of the row:
    /// from which Y to which, and from which X to which in the middle between them.
    pub(in crate::prove) fn beneath(
        &self,
        path: &Edge,
        radius: f64,
    ) -> impl Iterator<Item = (&Row, (f64, f64), (f64, f64))> {
        let swept = SweptPath::new(path, radius);
        let around = path.bounds().inflate(radius, radius);
        let from = self.rows.partition_point(|row| row.y + row.height / 2.0 <= around.y0);
        let rows = self.rows.get(from..).unwrap_or_default().iter();
        let met = rows.map_while(move |row| {
            let half = row.height / 2.0;
            let (low, high) = overlap((row.y - half, row.y + half), (around.y0, around.y1));
            self.effort.spend(2);
            (low < high).then_some((row, (low, high)))
        });
        met.flat_map(move |(row, band)| {
            let chords = swept.chords(f64::midpoint(band.0, band.1));
            let mut next = 0..;
            std::iter::from_fn(move || Some((row, band, *chords.as_slice().get(next.next()?)?)))
        })
    }

    /// At each station the wood above the tip on the line square to its path, as far as `radius` to either side: exact
    /// where the path is parallel to X or Y and nothing slopes, else by samples.
    pub(in crate::prove) fn across(&self, stations: &[Station], radius: f64) -> Vec<Slice> {
        let along_y = |station: &Station| station.along.y == 0.0;
        let one_line = |line: &[Station]| {
            line.windows(2)
                .all(|pair| matches!(pair, [a, b] if a.at.y.to_bits() == b.at.y.to_bits()))
        };
        match stations {
            [first, ..] if stations.iter().all(along_y) && one_line(stations) => {
                self.along_y(first.at.y, stations, radius)
            }
            _ => stations.iter().map(|station| self.across_one(station, radius)).collect(),
        }
    }

    /// [`Self::across`] of stations on one line along X: row by row, which is quicker than one after the other.
    fn along_y(&self, y: f64, stations: &[Station], radius: f64) -> Vec<Slice> {
        let mut found = vec![(0, 0.0, Slice::default()); stations.len()];
        // Rows that are alike are one.
        let (mut last, mut wide): (Option<&Row>, f64) = (None, 0.0);
        let add = |found: &mut [(usize, f64, Slice)], width| {
            for (_, height, slice) in found {
                slice.add(width, *height);
            }
        };
        for (row, width) in self.rows_around(y, radius) {
            self.effort.spend(stations.len() - 1);
            if last.is_some_and(|last| last.shares(row)) {
                wide += width;
                continue;
            }
            add(&mut found, wide);
            for (station, (near, height, _)) in stations.iter().zip(&mut found) {
                *height = height_at(row, self.uncut(), station.at.x, station.z, near);
            }
            (last, wide) = (Some(row), width);
        }
        add(&mut found, wide);
        found.into_iter().map(|(_, _, slice)| slice).collect()
    }

    fn across_one(&self, &Station { at, along, z }: &Station, radius: f64) -> Slice {
        if along.x == 0.0 {
            return self.along_x(at, radius, z);
        }
        if along.y == 0.0 {
            let one = Station { at, along, z };
            return self.along_y(at.y, &[one], radius).pop().unwrap_or_default();
        }
        let mut slice = Slice::default();
        self.effort.spend(SAMPLES as usize / 4);
        let width = 2.0 * radius / f64::from(SAMPLES);
        let mut near = 0;
        for index in 0..SAMPLES {
            let aside = (f64::from(index) + 0.5) * width - radius;
            let place = at + aside * Vec2::new(-along.y, along.x);
            if let Some(row) = self.row_at(place.y) {
                slice.add(width, height_at(row, self.uncut(), place.x, z, &mut near));
            }
        }
        slice
    }

    /// Whether no slice across a path along X from `from` to `to` exceeds `most` mm²: not even every
    /// row with the tallest wood on it does.
    pub(in crate::prove) fn is_light(
        &self,
        (from, to): (Point, Point),
        radius: f64,
        z: f64,
        most: f64,
    ) -> bool {
        let area = |(width, height)| width * height;
        comes_to_at_most(most, self.tallest_of_rows((from, to), radius, z).map(area))
    }

    /// Whether the wood above `z` is nowhere across such a path wider than `most` mm: not even all rows with any
    /// on them are.
    pub(in crate::prove) fn is_narrow(
        &self,
        (from, to): (Point, Point),
        radius: f64,
        z: f64,
        most: f64,
    ) -> bool {
        let wide = |(width, height)| if height > 0.0 { width } else { 0.0 };
        comes_to_at_most(most, self.tallest_of_rows((from, to), radius, z).map(wide))
    }

    /// For each row within `radius` of a path along X from `from` to `to`: how much of it lies there, and the
    /// height of its tallest wood above `z` beside the path.
    fn tallest_of_rows(
        &self,
        (from, to): (Point, Point),
        radius: f64,
        z: f64,
    ) -> impl Iterator<Item = (f64, f64)> {
        let span = Span::level((from.x.min(to.x), from.x.max(to.x)), z);
        let mut last: Option<(&Row, f64)> = None;
        self.rows_around(from.y, radius).map(move |(row, width)| {
            let height = match last {
                Some((alike, height)) if alike.shares(row) => height,
                _ => {
                    let first = row.first(span.from);
                    row.tallest(self.uncut(), first, &span, 0.0).map_or(0.0, |(height, _)| height)
                }
            };
            last = Some((row, height));
            (width, height)
        })
    }

    fn uncut(&self) -> UncutWood<'_> {
        UncutWood { stacks: &self.stacks, film: self.resolution.depth }
    }

    fn along_x(&self, at: Point, radius: f64, z: f64) -> Slice {
        let mut slice = Slice::default();
        let Some(row) = self.row_at(at.y) else { return slice };
        let (a, b) = (at.x - radius, at.x + radius);
        for (begin, stretch) in row.from(a) {
            if begin >= b {
                break;
            }
            let (from, to) = overlap((begin, stretch.end), (a, b));
            let top = |x| self.uncut().top(stretch.stack, stretch.cut_at(x));
            let height = |x| top(x).map_or(0.0, |top| (top - z).max(0.0));
            slice.add(to - from, f64::midpoint(height(from), height(to)));
        }
        slice
    }

    fn row_at(&self, y: f64) -> Option<&Row> {
        let row = self.rows.get(self.rows.partition_point(|row| row.y + row.height / 2.0 <= y))?;
        // Where two rows meet, rounding may leave `y` to neither.
        (row.y - row.height / 2.0 <= y + COINCIDENT).then_some(row)
    }

    /// Rows within `radius` of `y`, each with how much of it lies there.
    fn rows_around(&self, y: f64, radius: f64) -> impl Iterator<Item = (&Row, f64)> {
        let around = (y - radius, y + radius);
        let from = self.rows.partition_point(|row| row.y + row.height / 2.0 <= around.0);
        let rows = self.rows.get(from..).unwrap_or_default().iter();
        rows.map(move |row| {
            self.effort.spend(1);
            let half = row.height / 2.0;
            let (low, high) = overlap((row.y - half, row.y + half), around);
            (row, high - low)
        })
        .take_while(|(_, width)| *width > 0.0)
    }
}

/// Whether `parts` together are nowhere more than `most`; looks no further than it must.
fn comes_to_at_most(most: f64, mut parts: impl Iterator<Item = f64>) -> bool {
    let mut sum = 0.0;
    parts.all(|part| {
        sum += part;
        sum <= most
    })
}

/// How high the highest wood at a place of a row stands above `z`, 0 where none does; `near` is the index of the stretch
/// where it may well be, as on the row before.
fn height_at(row: &Row, uncut: UncutWood, x: f64, z: f64, near: &mut usize) -> f64 {
    *near = row.first_near(x, *near);
    let stretch = row.stretches.get(*near).filter(|_| x >= row.start);
    let cut = stretch.map(|stretch| (stretch.stack, stretch.cut_at(x))).filter(|(_, cut)| *cut > z);
    cut.and_then(|(stack, cut)| uncut.top(stack, cut)).map_or(0.0, |top| top - z)
}

/// Mean depth cut from a layer where the cut runs evenly from one Z to another.
fn mean_depth(layer: &Layer, from: f64, to: f64) -> f64 {
    let depth = |z: f64| (layer.top - z).clamp(0.0, layer.top - layer.bottom);
    let (low, high) = (from.min(to), from.max(to));
    if low.to_bits() == high.to_bits() || high - low < ROUNDING {
        return depth(low);
    }
    // Outside the layer the depth is even; inside it changes evenly.
    let share = |z: f64| (z.clamp(low, high) - low) / (high - low);
    let (enters, leaves) = (share(layer.bottom), share(layer.top));
    depth(low) * enters + f64::midpoint(depth(low), depth(high)) * (leaves - enters)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Outline, Region};
    use crate::prove::wood::{Part, Piece, Resolution};
    use crate::sash::Solid;
    use approx::assert_relative_eq;
    use kurbo::Rect;

    fn field() -> Field {
        let region = Region::solid(Outline::rectangle(Rect::new(0.0, 0.0, 40.0, 30.0)).unwrap());
        let solid =
            Solid { name: crate::language::Text::name("block"), region, top: 0.0, bottom: -20.0 };
        let piece = Piece { solid: &solid, part: Part::Stay };
        Field::new(&[piece], [].into_iter(), Resolution { pitch: 0.05, depth: 0.05 }, 0)
    }

    #[test]
    fn slices_are_width_by_height() {
        let field = field();
        let at = |x, y, along: (f64, f64)| Station {
            at: Point::new(x, y),
            along: Vec2::from(along),
            z: -4.0,
        };
        let slice = |x, y, along| field.across(&[at(x, y, along)], 6.0)[0];
        // Half of the cutter over the block, along each side; all of it; none of it.
        for half in [slice(0.0, 15.0, (0.0, 1.0)), slice(20.0, 30.0, (-1.0, 0.0))] {
            assert_relative_eq!(half.width, 6.0, epsilon = 1e-9);
            assert_relative_eq!(half.area, 24.0, epsilon = 1e-9);
        }
        assert_relative_eq!(slice(20.0, 15.0, (1.0, 0.0)).area, 48.0, epsilon = 1e-9);
        assert_relative_eq!(slice(20.0, 15.0, (0.6, 0.8)).area, 48.0, epsilon = 1e-9);
        assert_eq!(slice(60.0, 15.0, (0.6, 0.8)).area, 0.0);
        // Asked together, stations on one line say what each says by itself.
        let line = [-3.0, 2.0, 20.0, 39.0, 44.0].map(|x| at(x, 27.0, (1.0, 0.0)));
        let each: Vec<Slice> = line.iter().map(|one| field.across(&[*one], 6.0)[0]).collect();
        assert_eq!(field.across(&line, 6.0), each);
        assert!(each[0].area == 0.0 && each[1].area > 0.0);
        let ends = (Point::new(-10.0, 28.0), Point::new(9.0, 28.0));
        assert!(field.is_light(ends, 6.0, -4.0, 8.0 * 4.0 + 1e-9));
        assert!(!field.is_light(ends, 6.0, -4.0, 8.0 * 4.0 - 1e-9));
    }

    #[test]
    fn the_tallest_under_a_body_is_found_without_cutting() {
        let field = field();
        let path = Edge::line(Point::new(-9.0, 5.0), Point::new(-9.0, 25.0));
        assert_eq!(field.under(&path, 8.9, -3.0), None);
        assert_eq!(field.under(&path, 9.1, -3.0).unwrap().height, 3.0);
    }

    #[test]
    fn the_mean_depth_of_a_slope_through_a_layer() {
        let layer = Layer { top: -2.0, bottom: -6.0, part: Part::MayGo };
        assert_eq!(mean_depth(&layer, -1.0, -1.0), 0.0);
        assert_eq!(mean_depth(&layer, -9.0, -9.0), 4.0);
        assert_eq!(mean_depth(&layer, -2.0, -6.0), 2.0);
        // From 0 to −8: a quarter none, half even, a quarter all: 0 + 1 + 1.
        assert_eq!(mean_depth(&layer, 0.0, -8.0), 2.0);
        assert_eq!(mean_depth(&layer, -8.0, 0.0), 2.0);
        assert_eq!(mean_depth(&layer, f64::NEG_INFINITY, f64::NEG_INFINITY), 4.0);
    }
}
