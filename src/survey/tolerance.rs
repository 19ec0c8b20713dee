//! How much thicker than its nominal thickness a unit may come.

use super::{BuildUp, Make, Treatment};

const EN_1279_1: &str = "EN 1279-1:2018";

/// Permitted deviation of a unit's thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance {
    /// Above the nominal thickness, mm.
    pub over: f64,
    /// What the value takes for granted, in words.
    pub assumes: &'static str,
    /// Where it comes from.
    pub source: &'static str,
}

/// The tolerance that EN 1279-1 gives a build-up: ±1.0 mm for two panes of float, ±1.5 mm where one
/// is laminated or heat treated; ±1.4 mm and +2.8 mm for three.
///
/// A pane whose thickness is no whole number of mm (6.4, 8.8) is read as laminated. Patterned
/// panes cannot be told from a build-up: the maker's word goes before this one. A bare
/// thickness could be anything of two panes, so it gets the wider of their two values. Four panes
/// and more lie beyond the standard and get the widest value of three.
pub fn thickness_tolerance(build_up: &BuildUp, make: &Make) -> Tolerance {
    let heated = matches!(make.glass, Some(Treatment::HeatStrengthened | Treatment::Toughened));
    let (over, assumes) = match build_up {
        BuildUp::Bare(_) => (1.5, "two panes of any glass"),
        BuildUp::Panes { panes, .. } => {
            let laminated = panes.iter().any(|pane| pane.fract() != 0.0);
            match (panes.len(), laminated || heated) {
                (0..=2, false) => (1.0, "two panes of float, none toughened or patterned"),
                (0..=2, true) => (1.5, "two panes, one laminated or toughened"),
                (3, false) => (1.4, "three panes of float, none toughened or patterned"),
                (3, true) => (2.8, "three panes, one laminated or toughened"),
                _ => (2.8, "more panes than the standard knows: ask the maker"),
            }
        }
    };
    Tolerance { over, assumes, source: EN_1279_1 }
}

#[cfg(test)]
mod tests {
    use super::*;

    // EN 1279-1:2018 (published, reproduced).
    #[test]
    fn tolerance_follows_panes_and_lamination() {
        let rows = [
            ("4-6-4", 1.0),
            ("6.4-6-4", 1.5),
            ("4-8-4-8-4", 1.4),
            ("6.4-8-4-8-4", 2.8),
            ("14", 1.5),
            ("4-8-4-8-4-8-4", 2.8),
        ];
        for (text, over) in rows {
            assert_eq!(
                thickness_tolerance(&text.parse().unwrap(), &Make::default()).over,
                over,
                "{text}"
            );
        }
        let toughened = Make { glass: Some(Treatment::Toughened), ..Make::default() };
        assert_eq!(thickness_tolerance(&"4-6-4".parse().unwrap(), &toughened).over, 1.5);
    }
}
