//! One pane of a unit: how thick it is and what it is made of, which is stated and never guessed.

use std::fmt;
use std::str::FromStr;

/// Thickness of one layer of film between the plies of laminated glass, mm: the figure behind the point in
/// 33.1 counts them. Common practice, no source.
const FILM: f64 = 0.38;

/// One pane as it is written on an order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pane {
    thickness: f64,
    make: PaneMake,
}

/// What a pane is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PaneMake {
    /// One sheet of glass: a whole number of mm, `3.2`, `5.5`, or `6.4 float`.
    Float,
    /// Two plies of so many mm bonded by a film: `33.1`, or `6.4 lam.`
    Laminated([f64; 2]),
    /// `6.4` with nothing beside it: laminated glass comes so thick, and so does float of a quarter of an
    /// inch. It counts as the worse of both, and never as safe.
    Unstated,
}

impl Pane {
    /// One sheet of glass, mm.
    pub fn float(thickness: f64) -> Pane {
        Pane { thickness, make: PaneMake::Float }
    }

    /// Thickness as it is ordered, film and all, mm.
    pub fn thickness(&self) -> f64 {
        self.thickness
    }

    /// What it is made of.
    pub fn make(&self) -> PaneMake {
        self.make
    }

    /// Whether it is stated to be laminated.
    pub fn laminated(&self) -> bool {
        matches!(self.make, PaneMake::Laminated(_))
    }

    /// Thickness of its glass ply by ply, mm; of one that could be laminated as if it were.
    pub fn plies(&self) -> Vec<f64> {
        match self.make {
            PaneMake::Float => vec![self.thickness],
            PaneMake::Laminated(plies) => plies.to_vec(),
            PaneMake::Unstated => halves(self.thickness).to_vec(),
        }
    }

    /// Thickness of its glass if it acts as one sheet, mm.
    pub fn solid(&self) -> f64 {
        match self.make {
            PaneMake::Laminated(plies) => plies.iter().sum(),
            PaneMake::Float | PaneMake::Unstated => self.thickness,
        }
    }
}

/// Plies of whole mm in a laminated pane of `thickness`, as like as can be.
fn halves(thickness: f64) -> [f64; 2] {
    let thin = (thickness.floor() / 2.0).floor();
    [thin, thickness.floor() - thin]
}

/// Plies and layers of film of `33.1`: two figures from 2 to 8, a point, and 1 to 6.
fn notation(text: &str) -> Option<Pane> {
    let [first, second, b'.', films] = *text.as_bytes() else { return None };
    let figure = |byte: u8, most: u8| (b'1'..=most).contains(&byte).then(|| f64::from(byte - b'0'));
    let plies = [figure(first, b'8')?, figure(second, b'8')?];
    let films = figure(films, b'6')?;
    let thickness = plies.iter().sum::<f64>() + FILM * films;
    plies
        .iter()
        .all(|&ply| ply >= 2.0)
        .then_some(Pane { thickness, make: PaneMake::Laminated(plies) })
}

impl FromStr for Pane {
    type Err = ();

    /// Reads `4`, `3.2`, `6.4 float`, `6.4 lam.` and `33.1`.
    fn from_str(text: &str) -> Result<Self, ()> {
        let text = text.trim();
        if let Some(pane) = notation(text) {
            return Ok(pane);
        }
        let end = text.find(|c: char| c.is_ascii_alphabetic() && c != 'e').unwrap_or(text.len());
        let (number, word) = text.split_at_checked(end).ok_or(())?;
        let thickness: f64 = number.trim().parse().map_err(|_| ())?;
        if !(thickness > 0.0 && thickness <= 100.0) {
            return Err(());
        }
        let whole = thickness.fract() == 0.0;
        let make = match word.trim_end_matches('.') {
            "" if whole || thickness < THINNEST_USUAL => PaneMake::Float,
            "" => PaneMake::Unstated,
            "float" => PaneMake::Float,
            // What is over the whole mm is the film: without it the plies cannot be told.
            "lam" | "laminated" if !whole && thickness >= THINNEST_LAMINATED => {
                PaneMake::Laminated(halves(thickness))
            }
            _ => return Err(()),
        };
        Ok(Pane { thickness, make })
    }
}

/// Thinnest laminated glass of two plies, 22.1, and the thinnest usual one, 33.1, mm.
const THINNEST_LAMINATED: f64 = 4.0 + FILM;
const THINNEST_USUAL: f64 = 6.0 + FILM;

impl fmt::Display for Pane {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Pane { thickness, make } = self;
        match make {
            PaneMake::Float if thickness.fract() == 0.0 || *thickness < THINNEST_USUAL => {
                write!(f, "{thickness}")
            }
            PaneMake::Float => write!(f, "{thickness} float"),
            PaneMake::Unstated => write!(f, "{thickness}"),
            PaneMake::Laminated([first, second]) => {
                let short = format!("{first}{second}.{:.0}", (thickness - first - second) / FILM);
                match notation(&short) {
                    Some(same) if same == *self => f.write_str(&short),
                    _ => write!(f, "{thickness} lam."),
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn made(text: &str) -> PaneMake {
        text.parse::<Pane>().unwrap().make()
    }

    #[test]
    fn lamination_is_stated_in_the_notation_of_the_trade() {
        for (text, plies, thickness) in [
            ("33.1", [3.0, 3.0], 6.38),
            ("44.2", [4.0, 4.0], 8.76),
            ("64.4", [6.0, 4.0], 11.52),
            ("6.4 lam.", [3.0, 3.0], 6.4),
            ("6.8 lam", [3.0, 3.0], 6.8),
            ("7.4lam.", [3.0, 4.0], 7.4),
            ("10.8 laminated", [5.0, 5.0], 10.8),
        ] {
            let pane: Pane = text.parse().unwrap();
            assert_eq!(pane.make(), PaneMake::Laminated(plies), "{text}");
            assert!((pane.thickness() - thickness).abs() < 1e-9, "{text}");
        }
        for text in ["3.2", "5.5", "4", "6", "2.1", "6.4 float", "19"] {
            assert_eq!(made(text), PaneMake::Float, "{text}");
        }
        for text in ["6.4", "8.8", "10.8", "12.8"] {
            assert_eq!(made(text), PaneMake::Unstated, "{text}");
        }
        for text in [
            "",
            "lam.",
            "6 lam.",
            "3.2 lam.",
            "6.4 safe",
            "0",
            "-4",
            "101",
            "NaN",
            "1e9",
            "33.1 lam. x",
        ] {
            assert_eq!(text.parse::<Pane>(), Err(()), "{text}");
        }
    }

    proptest! {
        // Whatever number stands there alone, short of the notation: no pane is laminated by it.
        #[test]
        fn a_number_alone_never_makes_a_laminate(tenths in 1..220_u32) {
            let pane: Pane = (f64::from(tenths) / 10.0).to_string().parse().unwrap();
            prop_assert!(!pane.laminated());
            prop_assert_eq!(pane.to_string().parse::<Pane>(), Ok(pane));
        }

        #[test]
        fn what_is_written_is_read_again(first in 2..9_u32, second in 2..9_u32, films in 1..7_u32, tenths in 44..200_u32) {
            let text = format!("{first}{second}.{films}");
            prop_assert_eq!(text.parse::<Pane>().unwrap().to_string(), text);
            if tenths % 10 != 0 {
                let text = format!("{} lam.", f64::from(tenths) / 10.0);
                let pane: Pane = text.parse().unwrap();
                prop_assert!(pane.laminated());
                prop_assert_eq!(pane.to_string(), text);
            }
        }
    }
}
