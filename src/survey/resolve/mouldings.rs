//! Mouldings: their measures, and whether the wood has room for them.

use crate::geometry::COINCIDENT;
use crate::input::{Optional, Place, Reader, Spanned, show};
use crate::survey::file::members::{MouldingTable, Shape};
use crate::survey::values::Moulding;
use kurbo::Point;

/// A moulding and the places of its measures; a square arris has none.
#[derive(Debug, Clone)]
pub(super) struct Shaped {
    pub(super) moulding: Moulding,
    width: Option<Spanned<f64>>,
    depth: Option<Spanned<f64>>,
}

/// The wood that a moulding is worked on.
pub(super) struct Wood {
    /// Widest that the moulding may be, mm, and in words why.
    pub(super) width: Option<(f64, &'static str)>,
    /// Wood under the old platform, mm.
    pub(super) under: Option<f64>,
}

impl Shaped {
    /// No moulding.
    pub(super) fn square() -> Shaped {
        Shaped { moulding: Moulding::Square, width: None, depth: None }
    }

    /// Reads a table; square where there is none.
    pub(super) fn new(
        table: Option<&Spanned<Box<MouldingTable>>>,
        reader: &mut Reader<'_>,
    ) -> Option<Shaped> {
        let Some(table) = table else { return Some(Shaped::square()) };
        match table.shape.as_ref()?.value {
            Shape::Square => {
                for place in measures(table).into_iter().flatten().chain(points(table)) {
                    let expected = "nothing here, since a square arris has no moulding";
                    reader.contradict(place, expected.to_owned(), "");
                }
                Some(Shaped::square())
            }
            Shape::Chamfer => {
                named(table, reader, |width, depth| Moulding::Chamfer { width, depth })
            }
            Shape::Ovolo => named(table, reader, |width, depth| Moulding::Ovolo { width, depth }),
            Shape::Ogee => named(table, reader, |width, depth| Moulding::Ogee { width, depth }),
            Shape::Traced => traced(table, reader),
        }
    }

    /// Notes where the wood has no room for it.
    pub(super) fn check(&self, wood: &Wood, reader: &mut Reader<'_>) {
        if let (Some(width), Some((most, why))) = (&self.width, wood.width)
            && width.value > most + COINCIDENT
        {
            reader.contradict(&width.place, format!("at most {} mm, {why}", show(most)), "");
        }
        if let (Some(depth), Some(under)) = (&self.depth, wood.under)
            && under > 0.0
            && depth.value > under + COINCIDENT
        {
            let expected = format!("at most {} mm, the wood under the old platform", show(under));
            reader.contradict(&depth.place, expected, "depth runs from the room face to the glass");
        }
    }

    /// The same, no wider than `most`.
    pub(super) fn narrowed(mut self, most: f64) -> Shaped {
        let Some(width) = &mut self.width else { return self };
        if width.value <= most {
            return self;
        }
        match &mut self.moulding {
            Moulding::Square => {}
            Moulding::Chamfer { width, .. }
            | Moulding::Ovolo { width, .. }
            | Moulding::Ogee { width, .. } => *width = most,
            Moulding::Traced(points) => {
                let share = most / width.value;
                for point in points {
                    point.x *= share;
                }
            }
        }
        width.value = most;
        self
    }
}

fn measures(table: &MouldingTable) -> [Option<&Place>; 2] {
    [table.width.place(), table.depth.place()]
}

fn points(table: &MouldingTable) -> Option<&Place> {
    table.points.place()
}

fn named(
    table: &Spanned<Box<MouldingTable>>,
    reader: &mut Reader<'_>,
    moulding: impl FnOnce(f64, f64) -> Moulding,
) -> Option<Shaped> {
    if table.width.is_none() {
        reader.missing(&table.place, "width", "how far the moulding runs into the member, mm");
    }
    if table.depth.is_none() {
        reader.missing(&table.place, "depth", "how deep the moulding is from the room face, mm");
    }
    if let Some(place) = points(table) {
        let expected = "no points, which belong to the shape \"traced\"";
        reader.contradict(place, expected.to_owned(), "");
    }
    let (width, depth) = (table.width.clone()?, table.depth.clone()?);
    let moulding = moulding(width.value, depth.value);
    Some(Shaped { moulding, width: Some(width), depth: Some(depth) })
}

fn traced(table: &Spanned<Box<MouldingTable>>, reader: &mut Reader<'_>) -> Option<Shaped> {
    for place in measures(table).into_iter().flatten() {
        let expected = "nothing here, since traced points carry their own measures";
        reader.contradict(place, expected.to_owned(), "");
    }
    let Some(points) = &table.points else {
        let about = "the traced points, such as points = [[0, 15], [10, 4], [12, 0]]";
        reader.missing(&table.place, "points", about);
        return None;
    };
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        let expected = "at least two points".to_owned();
        reader.contradict(&points.place, expected, "");
        return None;
    };
    if points.len() < 2 {
        reader.contradict(&points.place, "at least two points".to_owned(), "");
        return None;
    }
    let mut sound = true;
    let mut refuse = |place: &Place, expected: &str, reader: &mut Reader<'_>| {
        sound = false;
        reader.contradict(place, expected.to_owned(), "each point is [distance, depth]");
    };
    let [start, _] = first.value;
    if start.abs() > COINCIDENT {
        refuse(&first.place, "a first point at the sight edge, with distance 0", reader);
    }
    let [width, end] = last.value;
    if end.abs() > COINCIDENT {
        refuse(&last.place, "a last point on the room face, with depth 0", reader);
    }
    for pair in points.windows(2) {
        if let [before, after] = pair
            && after.value[0] < before.value[0]
        {
            let expected = "a distance no smaller than that of the point before";
            refuse(&after.place, expected, reader);
        }
    }
    let depth = points.iter().map(|point| point.value[1]).fold(0.0, f64::max);
    if width <= COINCIDENT || depth <= COINCIDENT {
        refuse(&points.place, "points that enclose some wood, with a width and a depth", reader);
    }
    sound.then(|| Shaped {
        moulding: Moulding::Traced(
            points.iter().map(|at| Point::from((at.value[0], at.value[1]))).collect(),
        ),
        width: Some(Spanned::new(width, &last.place)),
        depth: Some(Spanned::new(depth, &points.place)),
    })
}
