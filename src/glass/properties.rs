//! What a unit is reckoned as where its gas, coat, spacer and glass are not all stated.

use super::thermal::{Filling, Gas, Glazing, UNCOATED, corrected};
use crate::survey::{BuildUp, Make, Pane, PaneMake, Spacer, Treatment, Unit};

/// Gas, coat, spacer and glass as they are reckoned with. What the survey does not state is taken as
/// the plainest there is: air, no coat, a metal spacer, annealed panes. The unit can only be warmer and
/// stronger than that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Properties {
    /// What fills the cavities.
    pub gas: Gas,
    /// Its share by volume, 0 to 1.
    pub share: f64,
    /// Normal emissivity of the coated face of each cavity; none where there is no coat.
    pub emissivity: Option<f64>,
    /// What keeps the panes apart.
    pub spacer: Spacer,
    /// How the panes are treated.
    pub glass: Treatment,
}

/// Panes that break safely.
const SAFE: &str = "toughened, or laminated of the same thickness";

impl Properties {
    /// Those of `make`.
    pub fn of(make: &Make) -> Properties {
        let gas = make.gas.unwrap_or(Gas::Air);
        Properties {
            gas,
            share: if gas == Gas::Air { 1.0 } else { make.share },
            emissivity: make.emissivity,
            spacer: make.spacer.unwrap_or(Spacer::Metal),
            glass: make.glass.unwrap_or(Treatment::Annealed),
        }
    }

    /// The panes and cavities of `unit` with these properties; `None` for a bare thickness.
    pub fn glazing(&self, unit: &Unit) -> Option<Glazing> {
        let filling = Filling::in_air(self.gas, self.share).ok()?;
        let emissivity = self.emissivity.and_then(corrected).unwrap_or(UNCOATED);
        Glazing::of(&unit.build_up, filling, emissivity)?.ok()
    }

    /// In words, as on an order: `argon 90 %, emissivity 0.03, improved spacer, toughened`.
    pub fn words(&self) -> String {
        self.with_glass(self.glass.name())
    }

    /// The same where a judgement asks for glass that breaks safely: nobody is to read two kinds of glass on one
    /// order. A laminated pane of more than the surveyed thickness would want another rebate.
    pub fn words_for_safety(&self) -> String {
        self.with_glass(&format!("every pane {SAFE}"))
    }

    fn gas_words(&self) -> String {
        match self.gas {
            Gas::Air => "air".to_owned(),
            gas => format!("{} {:.0} %", gas.name(), 100.0 * self.share),
        }
    }

    fn with_glass(&self, glass: &str) -> String {
        let gas = self.gas_words();
        let coat = self.emissivity.map_or("no coat".to_owned(), coat_words);
        let spacer = spacer_words(self.spacer);
        format!("{gas}, {coat}, {spacer}, {glass}")
    }
}

/// A coat in words; what makers state has two places.
fn coat_words(emissivity: f64) -> String {
    format!("emissivity {}", (1e3 * emissivity).round() / 1e3)
}

/// A spacer in words.
pub fn spacer_words(spacer: Spacer) -> &'static str {
    match spacer {
        Spacer::Metal => "metal spacer",
        Spacer::Improved => "improved spacer",
    }
}

/// The panes and cavities of a unit from the outside in, each in words; one for a bare thickness. What the survey does
/// not state stands in none of them. `safe` where a judgement asks for glass that breaks safely.
pub fn layers(build_up: &BuildUp, make: &Make, safe: bool) -> Vec<String> {
    let BuildUp::Panes { panes, cavities } = build_up else {
        return vec![format!("{} mm in all", build_up.thickness())];
    };
    let joined = |parts: Vec<Option<String>>| {
        parts.into_iter().flatten().collect::<Vec<String>>().join(", ")
    };
    let pane = |pane: &Pane| {
        let of = match pane.make() {
            PaneMake::Float => Some("float".to_owned()),
            PaneMake::Laminated([a, b]) => Some(format!("laminated of {a} and {b} mm")),
            PaneMake::Unstated => None,
        };
        let treated = make.glass.map(|treatment| treatment.name().to_owned());
        let treated = if safe { Some(SAFE.to_owned()) } else { treated };
        joined(vec![Some(format!("{} mm", pane.thickness())), of, treated])
    };
    let cavity = |width: &f64| {
        let coat = make.emissivity.map(coat_words);
        let coat = coat.map(|coat| format!("one face beside it coated, {coat}"));
        let gas = make.gas.map(|_| Properties::of(make).gas_words());
        let spacer = make.spacer.map(|spacer| spacer_words(spacer).to_owned());
        joined(vec![Some(format!("{width} mm")), gas, spacer, coat])
    };
    let mut layers: Vec<String> = panes.iter().map(pane).collect();
    for (index, width) in cavities.iter().enumerate() {
        layers.insert((2 * index + 1).min(layers.len()), cavity(width));
    }
    layers
}

/// What of a unit is not stated, in words: what to ask the unit maker for.
pub fn unstated(build_up: &BuildUp, make: &Make) -> Vec<&'static str> {
    [
        (make.gas.is_none(), "gas"),
        (make.emissivity.is_none(), "coat"),
        (make.spacer.is_none(), "spacer"),
        (make.glass.is_none(), "treatment of the panes"),
        (build_up.unclear().is_some(), "whether the glass is laminated"),
        // No key of the survey says either; a maker has to be told both.
        (make.emissivity.is_some(), "coated face"),
        (make.spacer == Some(Spacer::Improved), "spacer material"),
    ]
    .into_iter()
    .filter_map(|(open, what)| open.then_some(what))
    .collect()
}

#[cfg(test)]
mod tests {
    use super::super::tests::unit;
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn what_is_not_stated_is_the_plainest() {
        let plain = Properties::of(&Make::default());
        assert_eq!(plain.words(), "air, no coat, metal spacer, annealed");
        assert_eq!(unstated(&unit("4-6-4").build_up, &Make::default()).len(), 4);
        // EN 673 by separate arithmetic: 4-12-4 with air, uncoated, 2.850.
        let u = plain.glazing(&unit("4-12-4")).unwrap().u_value();
        assert_relative_eq!(u, 2.850, epsilon = 1e-3);
        assert_eq!(plain.glazing(&unit("14")), None);
    }

    #[test]
    fn every_layer_is_told_from_the_outside_in() {
        let make = Make { gas: Some(Gas::Argon), emissivity: Some(0.03), ..Make::default() };
        let found = layers(&unit("4-6-6.4 lam.-8-4").build_up, &make, false);
        let cavity = "argon 90 %, one face beside it coated, emissivity 0.03";
        let expected = [
            "4 mm, float".to_owned(),
            format!("6 mm, {cavity}"),
            "6.4 mm, laminated of 3 and 3 mm".to_owned(),
            format!("8 mm, {cavity}"),
            "4 mm, float".to_owned(),
        ];
        assert_eq!(found, expected);
        // What could be either is named as neither.
        assert_eq!(layers(&unit("6.4-6-4").build_up, &Make::default(), false)[0], "6.4 mm");
        let safe = layers(&unit("4-6-4").build_up, &Make::default(), true);
        assert_eq!(safe[2], "4 mm, float, toughened, or laminated of the same thickness");
        assert_eq!(layers(&unit("14").build_up, &make, true), ["14 mm in all"]);
    }

    #[test]
    fn what_is_stated_counts() {
        let make = Make {
            gas: Some(Gas::Argon),
            emissivity: Some(0.03),
            spacer: Some(Spacer::Improved),
            glass: Some(Treatment::Toughened),
            ..Make::default()
        };
        let properties = Properties::of(&make);
        assert_eq!(properties.words(), "argon 90 %, emissivity 0.03, improved spacer, toughened");
        assert_eq!(unstated(&unit("4-6-4").build_up, &make), ["coated face", "spacer material"]);
        // As above: 4-6-4, argon 90 %, 0.03: 2.0101.
        let u = properties.glazing(&unit("4-6-4")).unwrap().u_value();
        assert_relative_eq!(u, 2.0101, epsilon = 1e-3);
    }
}
