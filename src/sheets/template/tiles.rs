//! A large drawing cut into tiles that fit the paper.

use crate::geometry::Edge;
use crate::sheets::kit::Obstacle;
use kurbo::{Point, Rect, Size};

/// How far from either end of a seam its marks lie, as shares of its length; the first that is clear of lines is
/// taken.
const MARKS_AT: [f64; 9] = [0.2, 0.15, 0.25, 0.1, 0.3, 0.35, 0.4, 0.45, 0.06];
/// How far a mark reaches, mm.
pub(super) const MARK_REACH: f64 = 5.0;
/// Lines that meet at less than this, as a sine, are one bundle: a straightedge joins what is left of them.
const BESIDE: f64 = 0.02;

/// One tile.
#[derive(Debug, Clone, PartialEq)]
pub struct Tile {
    /// Column from the left and row from the top, from 0.
    pub column: usize,
    /// See `column`.
    pub row: usize,
    /// What it shows of the drawing.
    pub window: Rect,
}

impl Tile {
    /// A letter for the column, a number for the row: `B3`.
    pub fn name(&self) -> String {
        let mut letters = String::new();
        let mut rest = self.column;
        loop {
            let letter = u8::try_from(rest % 26).map_or('A', |n| char::from(b'A' + n));
            letters.insert(0, letter);
            if rest < 26 {
                return format!("{letters}{}", self.row + 1);
            }
            rest = rest / 26 - 1;
        }
    }
}

/// Where two tiles are joined.
#[derive(Debug, Clone, PartialEq)]
pub struct Seam {
    /// Both tiles, by their place in [`Tiling::tiles`].
    pub tiles: [usize; 2],
    /// Middle of what both show, from end to end.
    pub line: [Point; 2],
    /// How far the tiles overlap, mm.
    pub overlap: f64,
    /// The marks on both.
    pub marks: [Point; 2],
}

/// A drawing in tiles.
#[derive(Debug, Clone, PartialEq)]
pub struct Tiling {
    /// Columns and rows of the whole grid.
    pub columns: usize,
    /// See `columns`.
    pub rows: usize,
    /// Tiles that carry lines, row by row from the top.
    pub tiles: Vec<Tile>,
    /// Seams between them; a seam is called by its place in the list, from 1.
    pub seams: Vec<Seam>,
}

impl Tiling {
    /// Cuts what lies in `drawing` into windows of `size` that overlap by at least `overlap`. Windows
    /// are spread evenly, so that the first and the last end where the drawing does.
    pub fn new(drawing: Rect, size: Size, overlap: f64, edges: &[Edge]) -> Tiling {
        let across = spread(drawing.x0, drawing.x1, size.width, overlap);
        // Rows are counted from the top.
        let mut up = spread(drawing.y0, drawing.y1, size.height, overlap);
        up.reverse();
        let obstacles = Obstacle::all(edges);
        let mut tiles = Vec::new();
        for (row, &y) in up.iter().enumerate() {
            for (column, &x) in across.iter().enumerate() {
                let window = Rect::from_origin_size(Point::new(x, y), size);
                // A tile without a line on it is not worth a sheet.
                if obstacles.iter().any(|edge| edge.runs_through(window)) {
                    tiles.push(Tile { column, row, window });
                }
            }
        }
        let seams = seams(&tiles, &obstacles);
        Tiling { columns: across.len(), rows: up.len(), tiles, seams }
    }

    /// The same without the tiles that show nothing but straight lines beside each other, from edge to edge: what
    /// other tiles show of these lines gives the rest.
    pub(super) fn without_straight(mut self, edges: &[Edge]) -> Tiling {
        let obstacles = Obstacle::all(edges);
        self.tiles.retain(|tile| !is_straight(tile.window, &obstacles));
        self.seams = seams(&self.tiles, &obstacles);
        self
    }
}

impl Tiling {
    /// The seams of the tile with that index.
    pub(super) fn seams_of(&self, index: usize) -> impl Iterator<Item = &Seam> {
        self.seams.iter().filter(move |seam| seam.tiles.contains(&index))
    }
}

/// Whether all that runs through the window are straight lines beside each other that do not end in it.
fn is_straight(window: Rect, obstacles: &[Obstacle]) -> bool {
    let ends_outside =
        |ends: [Point; 2]| !ends.iter().any(|end| window.inflate(1.0, 1.0).contains(*end));
    let through = obstacles.iter().filter(|edge| edge.runs_through(window));
    let mut first = None;
    for edge in through {
        let Some([from, to]) = edge.ends().filter(|ends| ends_outside(*ends)) else { return false };
        let along = (to - from).normalize();
        if along.cross(*first.get_or_insert(along)).abs() > BESIDE {
            return false;
        }
    }
    first.is_some()
}

/// Where windows of `size` begin that together show `from` to `to`.
fn spread(from: f64, to: f64, size: f64, overlap: f64) -> Vec<f64> {
    let length = to - from;
    if length <= size {
        return vec![f64::midpoint(from, to) - size / 2.0];
    }
    // Overlap is far less than a window, so the step is positive.
    let step = (size - overlap).max(1.0);
    let mut count = 2_u32;
    while f64::from(count - 1) * step + size < length {
        count += 1;
    }
    let even = (length - size) / f64::from(count - 1);
    (0..count).map(|index| from + f64::from(index) * even).collect()
}

fn seams(tiles: &[Tile], lines: &[Obstacle]) -> Vec<Seam> {
    let mut seams = Vec::new();
    for (index, tile) in tiles.iter().enumerate() {
        for (other_index, other) in tiles.iter().enumerate() {
            let beside = other.row == tile.row && other.column == tile.column + 1;
            let below = other.column == tile.column && other.row == tile.row + 1;
            if !(beside || below) {
                continue;
            }
            let shared = tile.window.intersect(other.window);
            let middle = shared.center();
            let line = if beside {
                [Point::new(middle.x, shared.y1), Point::new(middle.x, shared.y0)]
            } else {
                [Point::new(shared.x0, middle.y), Point::new(shared.x1, middle.y)]
            };
            let [from, to] = line;
            let clear = |at: Point| {
                let around = Rect::from_center_size(at, (2.0 * MARK_REACH, 2.0 * MARK_REACH));
                !lines.iter().any(|line| line.runs_through(around))
            };
            let mark = |from: Point, to: Point| {
                let places = MARKS_AT.map(|share| from.lerp(to, share));
                places.into_iter().find(|at| clear(*at)).unwrap_or(from.lerp(to, MARKS_AT[0]))
            };
            seams.push(Seam {
                tiles: [index, other_index],
                line,
                overlap: if beside { shared.width() } else { shared.height() },
                marks: [mark(from, to), mark(to, from)],
            });
        }
    }
    seams
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn frame(rect: Rect) -> Vec<Edge> {
        crate::geometry::Outline::rectangle(rect).unwrap().edges().to_vec()
    }

    #[test]
    fn windows_end_where_the_drawing_does_and_overlap_enough() {
        let drawing = Rect::new(-60.0, -80.0, 674.0, 881.0);
        let tiling = Tiling::new(drawing, Size::new(194.0, 255.0), 15.0, &frame(drawing));
        assert_eq!((tiling.columns, tiling.rows), (5, 4));
        // Nothing runs through the middle of a frame: 5 × 4 less 3 × 2.
        assert_eq!(tiling.tiles.len(), 14);
        let first = tiling.tiles.first().unwrap();
        assert_relative_eq!(first.window.x0, -60.0);
        assert_relative_eq!(first.window.y1, 881.0);
        assert!(tiling.seams.iter().all(|seam| seam.overlap >= 15.0 - 1e-9));
        // A ring of tiles has as many seams as tiles.
        assert_eq!(tiling.seams.len(), 14);
        for seam in &tiling.seams {
            for mark in seam.marks {
                assert!(seam.tiles.iter().all(|&index| tiling.tiles[index].window.contains(mark)));
            }
        }
    }

    #[test]
    fn a_small_drawing_is_one_tile_in_the_middle() {
        let drawing = Rect::new(0.0, 0.0, 100.0, 100.0);
        let tiling = Tiling::new(drawing, Size::new(200.0, 200.0), 15.0, &frame(drawing));
        assert_eq!(tiling.tiles.len(), 1);
        assert_eq!(tiling.tiles[0].window.center(), drawing.center());
        assert!(tiling.seams.is_empty());
    }

    #[test]
    fn columns_are_called_by_letters_past_the_alphabet() {
        let name = |column| Tile { column, row: 0, window: Rect::ZERO }.name();
        assert_eq!(
            [0, 25, 26, 51, 52, 701, 702].map(name),
            ["A1", "Z1", "AA1", "AZ1", "BA1", "ZZ1", "AAA1"]
        );
    }
}
