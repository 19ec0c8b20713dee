//! A judgement as a person reads it: its matter in two or three words, and one sentence with the figures inside.
//!
//! The sentence says the wood and not the rule; the rule's id and what its bound rests on stand in JSON.

use super::{Finding, Quantity, Verdict};

impl Finding {
    /// What it is about, in two or three words.
    pub fn matter(&self) -> &'static str {
        match self.rule {
            "timber.front" => "thin wood",
            "timber.sight-line" => "sight line",
            "timber.beside" => "wood beside cut",
            "timber.bar" => "height of bars",
            "timber.web" => "web of bars",
            "timber.tenon" => "tenons",
            "timber.joint" => "corner joints",
            "timber.bar-joint" => "bar joints",
            "timber.crossing" => "bar crossings",
            "timber.proud" => "proud bead",
            "timber.wind" => "bends in wind",
            "timber.screw" => "screws",
            "metal.in-path" => "metal in the cut",
            "fit.clearance" => "gap round unit",
            "fit.blocks" | "done.blocks" => "setting blocks",
            "fit.spacer-shows" => "spacer shows",
            "fit.bar-shows" | "fit.internal-bar" => "internal bars",
            "fit.corner" => "round corners",
            "fit.packing" => "deep old rebate",
            "fit.taper" => "unit lies turned",
            "fit.putty" => "face putty",
            "fit.rebate" => "rebate width",
            "fit.drained" => "water out",
            "fit.twist" => "twisted sash",
            "fit.order-step" => "order steps",
            "sash.measures" | "sash.contradiction" => "measures",
            "rebate.round-daylight" => "tight daylight",
            "rebate.unlike" => "unlike members",
            "passes.cutter-length" | "machine.corner-cutter" => "short cutter",
            "passes.step-depth" => "deep steps",
            "passes.finish" => "finishing cut",
            "hand.bush" => "guide bush",
            "hand.plate-bearing" => "narrow template",
            "hand.reach" => "cutter's reach",
            "hand.bearing-width" | "hand.bearing-face" => "bearing",
            "machine.surface" => "face heights",
            "machine.lean" => "leaning face",
            "machine.bed" | "machine.overhang" => "machine's size",
            "machine.chip-load" => "thin chips",
            "machine.horn" => "clamp on a horn",
            "machine.clear-height" => "rapid moves",
            "machine.entry" | "machine.shape" => "wide cutter",
            "hanging.lifting" => "weight to lift",
            "hanging.heavier" => "heavier sash",
            "hanging.hinges" => "hinge screws",
            "hanging.weighed" => "old weights",
            "hanging.box" => "weight box",
            "glass.heat-stress" => "heat stress",
            "glass.seal" => "low spacer",
            "glass.cavity" => "cavity",
            "glass.pane" => "thin pane",
            "movement.across" | "movement.up" => "size of the unit",
            "movement.depth" => "bed",
            "movement.in-use" => "room to move",
            "movement.moisture" => "moisture",
            "safety.glazing" => "safety glass",
            "warmth.condensation" => "water on glass",
            "warmth.whole" => "saves no heat",
            "safety.guarding" => "guarding",
            "job.not-drawn" => "missing sheet",
            "prove.zero" => "setting zero",
            "done.order" => "what was ordered",
            "done.depth" | "done.opening" => "the rebate as cut",
            _ => match self.rule.split_once('.').map_or("", |(room, _)| room) {
                "glass" => "the glass",
                "prove" => "the programs",
                "job" => "not worked out",
                _ => "report.json",
            },
        }
    }

    /// One sentence with the figures, without the place; none where the advice holds them.
    pub fn says(&self) -> Option<String> {
        let [m, l] = self.figures().map(brief);
        let alone = self.verdict == Verdict::Stop;
        let least =
            if alone { format!("{l} is the least") } else { format!("{l} needs no thought") };
        let usual =
            if alone { format!("{l} is the most") } else { format!("{l} is the usual most") };
        let limit = self.limit.value;
        let wood = |what: &str| match self.measured.value {
            value if value <= 0.0 => {
                let past = brief(Quantity { value: -value, ..self.measured }.to_string());
                format!("no wood would be left {what}; the cut goes {past} past it")
            }
            _ => format!("{m} of wood would be left {what}; {least}"),
        };
        Some(match self.rule {
            "timber.front" => wood("under the glass"),
            "timber.beside" => wood("beside the cut"),
            "timber.bar" => wood("of the bar's height"),
            "timber.web" => wood("between the two units"),
            "timber.tenon" => format!("{m} of the tenon would be left; {least}"),
            "timber.bar-joint" => format!("{m} of the bar's tenon would be left; {least}"),
            "timber.proud" => format!("it would stand {m} proud; {usual}"),
            "timber.screw" if self.measured.value <= 0.0 => {
                "its point reaches into the unit".into()
            }
            "timber.screw" => format!("{m} between its point and the unit; {least}"),
            "fit.clearance" => format!("a gap of {m} round the unit; {least}"),
            "fit.blocks" => format!("blocks {m} high; {least}"),
            "fit.spacer-shows" => format!("{m} of the spacer would show"),
            "fit.bar-shows" => format!("{m} of the internal bar would show"),
            "fit.corner" => format!("the cutter leaves corners of {m} radius; the unit clears {l}"),
            "fit.putty" => format!("{m} of room for the face putty; {l} is the published least"),
            "fit.rebate" => format!("a rebate {m} wide; {l} is the published least"),
            "fit.drained" => {
                format!("a gap of {m} round a drained unit; {l} is the published least")
            }
            "fit.twist" => format!("{m} of bed would be left under the unit; {least}"),
            "fit.order-step" => format!("the unit would be {m}; a step of the order is {l}"),
            "rebate.round-daylight" => format!("a rebate of {m} goes round here; it takes {l}"),
            "passes.cutter-length" => {
                format!("the cutter's edges are {m} long; this needs {l}")
            }
            "passes.step-depth" => format!("steps of {m}; the cutter's radius is {l}"),
            "passes.finish" => format!("a finishing cut of {m}; {usual}"),
            "hand.bush" => format!("the bush is {m} wide; the cutter takes {l}"),
            "hand.plate-bearing" => format!("{m} of the template's plate are left; {least}"),
            "hand.reach" => format!("the cutter stands {m} out of its nut; this needs {l}"),
            "machine.surface" => format!("this height lies {m} off the others; {usual}"),
            "machine.lean" => format!("the cutter's end would stand {m} off the face; {usual}"),
            "machine.bed" => format!("it takes {m}; the machine has {l}"),
            "machine.overhang" => format!("it reaches {m} past the travel; there is room for {l}"),
            "machine.chip-load" => format!("chips of {m}; under {l} a cutter rubs and burns"),
            "machine.clear-height" => format!("it stands {m} high; rapid moves run at {l}"),
            "machine.entry" => format!("{m} of open light; the cutter takes {l}"),
            "machine.corner-cutter" => format!("its edges are {m} long; {l} are needed"),
            "hanging.lifting" => {
                format!("it weighs {m} with its glass; {l} is what one person lifts easily")
            }
            "glass.seal" => format!("spacer and seal are {m} high; {l} is usual"),
            "glass.cavity" => format!(
                "a cavity of {m}; {usual}",
                usual = if limit < self.measured.value {
                    usual
                } else {
                    format!("{l} is the usual least")
                }
            ),
            "glass.pane" => format!("a pane of {m}; {l} is the usual least"),
            "glass.heat-stress" => {
                format!("{m} where sun meets its cold edge; the glass bears {l}")
            }
            "prove.zero" => format!("it may be off by {m}; you set it within {l}"),
            "warmth.condensation" => format!("{m} at the glass; dew forms under {l}"),
            "warmth.whole" => format!("{m} after the work; {l} before it"),
            "movement.moisture" => format!("the wood may be at {m}; the formula holds to {l}"),
            "safety.glazing" | "safety.guarding" if self.measured.unit == "mm" => {
                format!("{m} above the floor; the rule asks from {l} down")
            }
            _ => return None,
        })
    }

    /// The sentence and the advice: what it is, and what to do about it.
    pub fn told(&self) -> String {
        match self.says() {
            Some(says) => format!("{says}. {}", self.advice),
            None => self.advice.clone(),
        }
    }
}

/// Without a nought that says nothing: `8.0 mm` is 8 mm.
fn brief(figure: String) -> String {
    match figure.split_once(".0") {
        Some((whole, rest)) if !rest.starts_with(|c: char| c.is_ascii_digit()) => {
            format!("{whole}{rest}")
        }
        _ => figure,
    }
}

/// `text` with a capital at its head.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let mut out = String::with_capacity(text.len() + 1);
    out.extend(letters.next().into_iter().flat_map(char::to_uppercase));
    out.push_str(letters.as_str());
    out
}

/// Most names in a row.
const MOST_NAMES: usize = 3;

/// Like places as one: `all four corners`, `left stile and right stile`; empty for the sash as a whole and for the cutter.
pub fn places(names: &[&str]) -> String {
    let corners = names.iter().filter(|name| name.contains(" into ")).count();
    let members = ["left stile", "right stile", "bottom rail", "top rail"];
    if names.len() == 4 && corners == 4 {
        return "all four corners".into();
    }
    if names.len() == 4 && members.iter().all(|member| names.contains(member)) {
        return "all round".into();
    }
    match names {
        // Of the cutter the sentence itself speaks.
        [] | ["whole sash" | "cutter"] => String::new(),
        [one] => (*one).to_owned(),
        [before @ .., last] if names.len() <= MOST_NAMES => {
            format!("{} and {last}", before.join(", "))
        }
        [first, second, ..] => format!("{first}, {second} and {} more", names.len() - 2),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Basis, Bound, Bounds};
    use super::*;

    fn front(wood: f64) -> Finding {
        let bound = |value| Bound { value, basis: Basis::CommonPractice };
        let bounds = Bounds::new(bound(5.0), bound(8.0));
        Finding::at_least("timber.front", "left stile", Quantity::mm(wood), bounds, |_, _| {
            "glue in a slip".into()
        })
    }

    #[test]
    fn figures_stand_in_the_sentence() {
        let told = |wood| front(wood).told();
        assert_eq!(
            told(7.0),
            "7 mm of wood would be left under the glass; 8 mm needs no thought. Glue in a slip."
        );
        assert_eq!(
            told(4.98),
            "4.98 mm of wood would be left under the glass; 5.00 mm is the least. Glue in a slip."
        );
        assert_eq!(
            told(-2.4),
            "no wood would be left under the glass; the cut goes 2.4 mm past it. Glue in a slip."
        );
    }

    #[test]
    fn like_places_are_told_as_one() {
        let members = ["left stile", "right stile", "bottom rail", "top rail"];
        assert_eq!(places(&members), "all round");
        assert_eq!(places(&members[..2]), "left stile and right stile");
        assert_eq!(places(&["a", "b", "c", "d", "e"]), "a, b and 3 more");
        assert_eq!(places(&["whole sash"]), "");
        let corners = [
            "bottom rail into left stile",
            "bottom rail into right stile",
            "top rail into left stile",
            "top rail into right stile",
        ];
        assert_eq!(places(&corners), "all four corners");
    }

    #[test]
    fn a_nought_that_says_nothing_is_left_out() {
        let brief = |text: &str| brief(text.to_owned());
        assert_eq!(brief("8.0 mm"), "8 mm");
        assert_eq!(brief("8.05 mm"), "8.05 mm");
        assert_eq!(brief("5.00 mm"), "5.00 mm");
        assert_eq!(brief("75.0 %"), "75 %");
    }
}
