//! The tables of a daylight: square, out of square, under a head, round, or free.

use super::lengths::{Coordinate, SightSize};
use super::names::{FileName, LayerName};
use crate::input::{
    All, Entry, Few, INCH, Node, Pair, Reader, choice, measures, pair, part, refuse, table,
};
use serde_json::{Value, json};

measures! {
    Diagonal: length 50.0 20_000.0;
    Tolerance: length 0.1 20.0;
    Bow: length -100.0 100.0;
    Rise: length 1.0 5000.0;
    Radius: length 10.0 10_000.0;
    FaceHeight: length -50.0 50.0;
    // An arc of up to half a turn: a larger one wants a corner in between.
    Bulge: number -1.0 1.0 "";
}

/// The shape of a head, by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Head {
    Segmental,
    Semicircular,
    Elliptical,
    ThreeCentred,
    Pointed,
    Raked,
}

choice! {
    HeadWord: Head {
        "segmental" => Head::Segmental;
        "semicircular" | "half-round" => Head::Semicircular;
        "elliptical" => Head::Elliptical;
        "three-centred" | "three-centered" => Head::ThreeCentred;
        "pointed" | "gothic" => Head::Pointed;
        "raked" => Head::Raked;
    }
}

table! {
    /// Sight size: daylight between the members. One way to give it: `width` and `height`, with a
    /// `head` where the top is not level; or `widths`, `heights` and `diagonals` of a sash out of
    /// square; or a `diameter`; or an `outline`; or one that is `traced`.
    SightTable {
        /// From stile to stile.
        width: SightSize, otherwise "another way to give the sight";
        /// From rail to rail; under a head, from the bottom rail to its highest point.
        height: SightSize, otherwise "another way to give the sight, or the heights of a raked head";
        /// What the top is where it is not level.
        head: HeadTable, otherwise "a level top";
        /// Widths at the bottom, in the middle if measured, and at the top; each corner to corner, the
        /// middle from the middle of the left sight edge to the middle of the right.
        widths: Few<SightSize>, otherwise "a sash that is square";
        /// Heights at the left, in the middle if measured, and at the right.
        heights: Few<SightSize>, otherwise "a sash that is square";
        /// Diagonals: from the lower left corner, and from the lower right.
        diagonals: Pair<Diagonal>, otherwise "a sash that is square";
        /// How far each of these widths, heights and diagonals may be off either way.
        tolerance: Tolerance, otherwise "1 mm";
        /// How far the middle of a sight edge lies out from a straightedge laid along it; negative where
        /// it bends into the daylight.
        bow: BowTable, otherwise "straight members, as far as middle widths and heights agree with the ends";
        /// A round sash.
        diameter: SightSize, otherwise "another shape";
        /// Any other shape: its corners in order, each [x, y], or [x, y, bulge] where an arc leads to the
        /// next corner: the tangent of a quarter of its angle, positive turning left.
        outline: All<Corner>, otherwise "another shape";
        /// Any other shape, traced in a drawing program: the name of a text DXF file that holds one closed
        /// outline of lines, arcs and polylines; from the survey's folder on, with forward slashes.
        traced: FileName, otherwise "another shape";
        /// Of a traced outline: the layer that it is drawn on.
        layer: LayerName, otherwise "everything in the drawing, which then lies on one layer";
        /// Of a traced outline: the unit that it is drawn in, "mm", "cm", "dm", "m", "in" or "ft".
        drawn_in: DrawnIn, otherwise "the unit that the drawing names, which must then be there";
    }
}

table! {
    /// A head: what the top of the daylight is.
    HeadTable {
        /// Its shape. A raked head is straight and sloping.
        shape: HeadWord, needed;
        /// From the springing line up to the highest point.
        rise: Rise, otherwise "half the width of a semicircular head, or what `radius` gives a pointed one";
        /// Of a pointed head, the radius of its two arcs; of a three-centred one, of the two outer arcs.
        radius: Radius, otherwise "what `rise` gives";
        /// Height of a raked head at the left.
        left: SightSize, otherwise "no raked head";
        /// Height of a raked head at the right.
        right: SightSize, otherwise "no raked head";
    }
}

table! {
    /// How far the middle of each sight edge is bowed out of straight, positive away from the daylight.
    BowTable {
        /// The left sight edge.
        left: Bow, otherwise "straight";
        /// The right sight edge.
        right: Bow, otherwise "straight";
        /// The top sight edge.
        top: Bow, otherwise "straight";
        /// The bottom sight edge.
        bottom: Bow, otherwise "straight";
    }
}

// A drawing unit in mm.
choice! {
    DrawnIn: f64 {
        "mm" => 1.0;
        "cm" => 10.0;
        "dm" => 100.0;
        "m" => 1000.0;
        "in" => INCH;
        "ft" => 12.0 * INCH;
    }
}

/// A corner of a free outline, and the bulge of the edge that leads from it.
pub(crate) struct Corner;

impl Entry for Corner {
    type Value = ([f64; 2], f64);

    const PLAIN: bool = false;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<Self::Value> {
        let items = node.get_ref().as_array().map(AsRef::as_ref).unwrap_or_default();
        let ([_, _] | [_, _, _]) = items else {
            refuse::<Self>(node, reader);
            return None;
        };
        let at = pair::<Coordinate>(items, reader);
        let bulge = if items.len() == 3 { part::<Bulge>(items, 2, reader) } else { Some(0.0) };
        Some((at?, bulge?))
    }

    fn expected() -> String {
        format!("[x, y] or [x, y, bulge] in brackets, x and y {}", Coordinate::expected())
    }

    fn schema() -> Value {
        json!({
            "type": "array",
            "prefixItems": [Coordinate::schema(), Coordinate::schema(), Bulge::schema()],
            "minItems": 2,
            "maxItems": 3,
        })
    }
}

/// A place and its height: `[x, y, z]`.
pub(crate) struct Spot;

impl Entry for Spot {
    type Value = [f64; 3];

    const PLAIN: bool = false;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<[f64; 3]> {
        let Some(items @ [_, _, _]) = node.get_ref().as_array().map(AsRef::as_ref) else {
            refuse::<Self>(node, reader);
            return None;
        };
        let at = pair::<Coordinate>(items, reader);
        let z = part::<FaceHeight>(items, 2, reader);
        let [x, y] = at?;
        Some([x, y, z?])
    }

    fn expected() -> String {
        format!(
            "[x, y, z] in brackets: x and y {}, z {}",
            Coordinate::expected(),
            FaceHeight::expected()
        )
    }

    fn schema() -> Value {
        json!({
            "type": "array",
            "prefixItems": [Coordinate::schema(), Coordinate::schema(), FaceHeight::schema()],
            "minItems": 3,
            "maxItems": 3,
        })
    }
}
