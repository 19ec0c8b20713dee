//! The make-up of a unit as it is written on an order: `4-6-4`, or a bare thickness.

use std::fmt;
use std::str::FromStr;

/// Panes and cavities of a unit, from the outside in, all in mm.
#[derive(Debug, Clone, PartialEq)]
pub enum BuildUp {
    /// Panes and the cavities between them: one pane more than cavities, at least two panes.
    Panes {
        /// Glass thicknesses.
        panes: Vec<f64>,
        /// Cavity widths.
        cavities: Vec<f64>,
    },
    /// Only the overall thickness is known.
    Bare(f64),
}

/// Why a text is not a build-up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BuildUpError;

impl fmt::Display for BuildUpError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a build-up such as 4-6-4 (pane, cavity, pane) or one overall thickness in mm, each part over 0 and at most 100")
    }
}

impl std::error::Error for BuildUpError {}

impl BuildUp {
    /// Nominal overall thickness, mm.
    pub fn thickness(&self) -> f64 {
        match self {
            BuildUp::Panes { panes, cavities } => panes.iter().chain(cavities).sum(),
            BuildUp::Bare(thickness) => *thickness,
        }
    }
}

impl FromStr for BuildUp {
    type Err = BuildUpError;

    /// Reads `4-6-4`, `4-8-4-8-4` or `14`.
    fn from_str(text: &str) -> Result<Self, BuildUpError> {
        let parts: Vec<f64> = text
            .split('-')
            .map(|part| part.trim().parse::<f64>().map_err(|_| BuildUpError))
            .collect::<Result<_, _>>()?;
        if !parts.iter().all(|&part| part > 0.0 && part <= 100.0) {
            return Err(BuildUpError);
        }
        match parts.as_slice() {
            [thickness] => Ok(BuildUp::Bare(*thickness)),
            many if many.len() % 2 == 1 => Ok(BuildUp::Panes {
                panes: many.iter().step_by(2).copied().collect(),
                cavities: many.iter().skip(1).step_by(2).copied().collect(),
            }),
            _ => Err(BuildUpError),
        }
    }
}

impl fmt::Display for BuildUp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            BuildUp::Bare(thickness) => write!(f, "{thickness}"),
            BuildUp::Panes { panes, cavities } => {
                for (index, pane) in panes.iter().enumerate() {
                    match index.checked_sub(1).and_then(|before| cavities.get(before)) {
                        Some(cavity) => write!(f, "-{cavity}-{pane}")?,
                        None => write!(f, "{pane}")?,
                    }
                }
                Ok(())
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_it_writes() {
        for text in ["4-6-4", "14", "4-8-4-8-4", "6.4-6-4"] {
            assert_eq!(text.parse::<BuildUp>().unwrap().to_string(), text);
        }
        assert_eq!("4-6-4".parse::<BuildUp>().unwrap().thickness(), 14.0);
    }

    #[test]
    fn refuses_what_is_no_build_up() {
        for text in ["", "4-", "4-6", "-4", "4-0-4", "NaN", "inf", "4-x-4", "1e9", "4--4"] {
            assert_eq!(text.parse::<BuildUp>(), Err(BuildUpError), "{text}");
        }
    }
}
