//! Layers: what a line stands for, and how it looks.

use std::borrow::Cow;

/// A colour that every pen has, by its plain name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Colour {
    Black,
    Grey,
    Red,
    Brown,
    Green,
    Blue,
    Cyan,
    Magenta,
}

impl Colour {
    /// Red, green and blue, dark enough to be read on white paper.
    pub fn rgb(self) -> [u8; 3] {
        match self {
            Colour::Black => [0, 0, 0],
            Colour::Grey => [110, 110, 110],
            Colour::Red => [196, 30, 30],
            Colour::Brown => [127, 63, 0],
            Colour::Green => [0, 120, 60],
            Colour::Blue => [20, 70, 190],
            Colour::Cyan => [0, 125, 150],
            Colour::Magenta => [160, 30, 140],
        }
    }

    /// Colour number of the DXF reference; 7 is black on white and white on black.
    pub fn dxf_number(self) -> u8 {
        match self {
            Colour::Black => 7,
            Colour::Grey => 8,
            Colour::Red => 1,
            Colour::Brown => 34,
            Colour::Green => 3,
            Colour::Blue => 5,
            Colour::Cyan => 4,
            Colour::Magenta => 6,
        }
    }
}

/// What kind of line, with the names of ISO 128-2.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineKind {
    /// Visible edges and outlines.
    Continuous,
    /// Hidden edges, and what was there before.
    Dashed,
    /// Dashed with wide gaps.
    Spaced,
    /// Long-dashed dotted: centre lines and cutting lines.
    Chain,
    /// Long-dashed double-dotted: what lies in front, or comes in later.
    DoubleChain,
}

impl LineKind {
    /// Every kind.
    pub const ALL: [LineKind; 5] = [
        LineKind::Continuous,
        LineKind::Dashed,
        LineKind::Spaced,
        LineKind::Chain,
        LineKind::DoubleChain,
    ];

    /// Dash, gap, dash, gap … in mm; empty for a continuous line.
    ///
    /// Dash 12 d, long dash 24 d, dot 0.5 d, gap 3 d, wide gap 18 d (ISO 128-2, from memory) for d = 0.25 mm. The
    /// same for every width, so that the pens agree.
    pub fn pattern(self) -> &'static [f64] {
        match self {
            LineKind::Continuous => &[],
            LineKind::Dashed => &[3.0, 0.75],
            LineKind::Spaced => &[3.0, 4.5],
            LineKind::Chain => &[6.0, 0.75, 0.125, 0.75],
            LineKind::DoubleChain => &[6.0, 0.75, 0.125, 0.75, 0.125, 0.75],
        }
    }
}

/// Line widths of the series in ISO 128-2.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LineWidth {
    /// 0.13 mm.
    W013,
    /// 0.18 mm.
    W018,
    /// 0.25 mm: the usual thin line.
    W025,
    /// 0.35 mm.
    W035,
    /// 0.5 mm: the usual thick line.
    W050,
    /// 0.7 mm.
    W070,
}

impl LineWidth {
    /// Hundredths of a millimetre, as the DXF reference counts widths.
    pub fn hundredths(self) -> u8 {
        match self {
            LineWidth::W013 => 13,
            LineWidth::W018 => 18,
            LineWidth::W025 => 25,
            LineWidth::W035 => 35,
            LineWidth::W050 => 50,
            LineWidth::W070 => 70,
        }
    }

    /// Width in mm.
    pub fn mm(self) -> f64 {
        f64::from(self.hundredths()) / 100.0
    }
}

/// A named layer and the look of everything on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Layer {
    /// Plain words of the trade, as a joiner would say them. See [`Layer::name_is_plain`].
    pub name: Cow<'static, str>,
    /// Colour of its lines and texts.
    pub colour: Colour,
    /// Kind of its lines.
    pub kind: LineKind,
    /// Width of its lines.
    pub width: LineWidth,
}

impl Layer {
    /// A layer with a fixed name.
    pub const fn new(
        name: &'static str,
        colour: Colour,
        kind: LineKind,
        width: LineWidth,
    ) -> Layer {
        Layer { name: Cow::Borrowed(name), colour, kind, width }
    }

    /// Whether every pen can carry the name: 1 to 31 ASCII letters, digits, spaces, `-` and `_`, no
    /// space at either end, and not `0`, which belongs to the DXF form itself.
    pub fn name_is_plain(&self) -> bool {
        let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, ' ' | '-' | '_');
        let name = &*self.name;
        (1..=31).contains(&name.len())
            && name.trim() == name
            && name != "0"
            && name.chars().all(plain)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_some_form_cannot_carry_are_told_apart() {
        let plain = |name: &str| {
            let width = LineWidth::W025;
            let name = Cow::Owned(name.to_owned());
            Layer { name, colour: Colour::Red, kind: LineKind::Dashed, width }.name_is_plain()
        };
        assert!(plain("old rebate") && plain("A_1-b"));
        for name in ["", "0", " a", "a ", "a/b", "a|b", "é", "a\nb", &"x".repeat(32)] {
            assert!(!plain(name), "{name:?}");
        }
    }
}
