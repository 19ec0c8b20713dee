//! A judgement, as every room speaks it: which rule, where, how much against how much, and what a
//! joiner can do about it.

mod words;

pub use words::places;

use crate::language::{Text, sentence};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize, Serializer};
use std::fmt;

/// How a finding bears on the work.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// The rule is met.
    Clear,
    /// The work can go on, with care.
    Caution,
    /// No machine program and no template for this sash.
    Stop,
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Verdict::Clear => "clear",
            Verdict::Caution => "caution",
            Verdict::Stop => "stop",
        })
    }
}

/// What a limit rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case", tag = "kind", content = "source")]
pub enum Basis {
    /// A published source, by name.
    Published(&'static str),
    /// A fact of the trade without a source.
    CommonPractice,
    /// The user's own setting in the survey.
    Setting,
    /// Follows from geometry alone: two solids cannot share a place.
    Geometry,
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Basis::Published(source) => f.write_str(source),
            Basis::CommonPractice => f.write_str("common practice, no source"),
            Basis::Setting => f.write_str("set in the survey"),
            Basis::Geometry => f.write_str("geometry"),
        }
    }
}

/// A number with its unit, as it is shown.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Quantity {
    /// The number, always finite.
    pub value: f64,
    /// Unit symbol: `mm`, `%`, `mm⁴`, `mm/min`, …; empty for a bare count.
    pub unit: &'static str,
}

impl Quantity {
    /// A length in millimetres.
    pub fn mm(value: f64) -> Self {
        Self { value, unit: "mm" }
    }
}

impl Quantity {
    /// With so many places; never a `-0.0`.
    fn with_places(self, places: usize) -> String {
        let text = format!("{:.places$}", self.value);
        let nought = text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.');
        let text = if nought { "0.0" } else { &text };
        if self.unit.is_empty() { text.to_owned() } else { format!("{text} {}", self.unit) }
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Tenths of a millimetre are what a joiner can read off a rule; a chip is much thinner.
        let places = if self.value != 0.0 && self.value.abs() < 0.1 { 3 } else { 1 };
        f.write_str(&self.with_places(places))
    }
}

/// One judgement.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Finding {
    /// Stable id, `room.matter`: `timber.front`, `fit.spacer-shows`, `metal.in-path`.
    pub rule: &'static str,
    /// Where: member, light, pass, or program line, in words.
    pub place: Text,
    /// What was measured.
    pub measured: Quantity,
    /// What it was held against.
    pub limit: Quantity,
    /// The outcome.
    pub verdict: Verdict,
    /// One sentence of advice that a joiner can act on.
    #[serde(serialize_with = "as_sentence")]
    #[schemars(with = "String")]
    pub advice: Text,
    /// What the limit rests on.
    pub basis: Basis,
}

/// A sentence in British words.
fn in_british(advice: &Text) -> String {
    sentence(&advice.to_string())
}

fn as_sentence<S: Serializer>(advice: &Text, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(&in_british(advice))
}

/// What a sash is asked. Each question gets an answer of its own: a clamp in the way of a machine says nothing of the
/// wood, and nothing of the glass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Question {
    /// Is there enough wood left?
    Wood,
    /// May the unit be ordered?
    Order,
    /// Can it be cut, by hand or by a machine?
    Cut,
    /// Can the programs be run as the machine is set up?
    Programs,
}

impl Finding {
    /// The advice in British words.
    pub fn advised(&self) -> String {
        in_british(&self.advice)
    }

    /// What was measured and what it was held against, in words: with as many places as it takes to tell them apart,
    /// since `0.5 mm against 0.5 mm` explains nothing.
    pub fn figures(&self) -> [String; 2] {
        let both = [self.measured, self.limit];
        let plain = both.map(|quantity| quantity.to_string());
        if plain[0] != plain[1] || self.verdict == Verdict::Clear {
            return plain;
        }
        let finer = [2, 3].map(|places| both.map(|quantity| quantity.with_places(places)));
        finer.into_iter().find(|[measured, limit]| measured != limit).unwrap_or(plain)
    }

    /// The room that found it, by the head of its rule.
    pub fn room(&self) -> &'static str {
        self.rule.split_once('.').map_or(self.rule, |(room, _)| room)
    }

    /// The question that it bears on, by the room that found it.
    pub fn question(&self) -> Question {
        match self.room() {
            // Steel is drawn, or a shorter screw put back; the wood is what it is.
            _ if self.rule == "timber.screw" => Question::Cut,
            "timber" => Question::Wood,
            "metal" | "passes" | "hand" => Question::Cut,
            "machine" | "prove" => Question::Programs,
            _ => Question::Order,
        }
    }
}

/// The gravest verdict on each question.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Answers {
    /// Is there enough wood left?
    pub wood: Verdict,
    /// May the unit be ordered, if there is?
    pub order: Verdict,
    /// Can it be cut, by hand or by a machine: metal, and what the cutter reaches.
    pub cut: Verdict,
    /// Can the programs be run as the machine is set up?
    pub programs: Verdict,
}

impl Answers {
    /// Of all findings of a sash.
    pub fn of(findings: &[Finding]) -> Answers {
        let on = |question: Question| {
            gravest(findings.iter().filter(|finding| finding.question() == question))
        };
        Answers {
            wood: on(Question::Wood),
            order: on(Question::Order),
            cut: on(Question::Cut),
            programs: on(Question::Programs),
        }
    }

    /// Whether glass is ordered: there is wood enough for this unit.
    pub fn may_be_ordered(self) -> bool {
        self.wood != Verdict::Stop && self.order != Verdict::Stop
    }

    /// Whether the sash may be cut for it, if only by hand.
    pub fn may_be_cut(self) -> bool {
        self.may_be_ordered() && self.cut != Verdict::Stop
    }
}

/// Measured values this close to a bound meet it: rounding must not turn 5.0 mm into too little, neither that of
/// reckoning nor that of advice which was followed.
const EVEN: f64 = 1e-7;

/// A value that a measured one is held against, and what it rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Bound {
    /// In the unit of the measured quantity.
    pub value: f64,
    /// Where it comes from.
    pub basis: Basis,
}

impl Bound {
    /// A bound that follows from geometry alone.
    pub fn geometry(value: f64) -> Bound {
        Bound { value, basis: Basis::Geometry }
    }

    /// A bound that is common practice, no source.
    pub fn common_practice(value: f64) -> Bound {
        Bound { value, basis: Basis::CommonPractice }
    }

    /// The same bound in another unit or of another size: a share in per cent, a ratio as a length.
    #[must_use]
    pub fn map(self, change: impl FnOnce(f64) -> f64) -> Bound {
        Bound { value: change(self.value), basis: self.basis }
    }
}

/// The one or two bounds of a rule.
#[derive(Debug, Clone, PartialEq)]
pub struct Bounds {
    /// Asked first: the graver.
    first: (Verdict, Bound),
    second: Option<(Verdict, Bound)>,
}

impl Bounds {
    /// Breach of `stop` stops the work, of `caution` alone asks for care.
    pub fn new(stop: impl Into<Bound>, caution: impl Into<Bound>) -> Bounds {
        let second = Some((Verdict::Caution, caution.into()));
        Bounds { first: (Verdict::Stop, stop.into()), second }
    }

    /// A breach stops the work; nothing asks for care.
    pub fn stop(bound: impl Into<Bound>) -> Bounds {
        Bounds { first: (Verdict::Stop, bound.into()), second: None }
    }

    /// A breach asks for care; nothing stops the work.
    pub fn caution(bound: impl Into<Bound>) -> Bounds {
        Bounds { first: (Verdict::Caution, bound.into()), second: None }
    }

    /// The verdict, and the bound that is breached, or else the last one met.
    fn judge(self, met: impl Fn(f64) -> bool) -> (Verdict, Bound) {
        let Bounds { first, second } = self;
        if !met(first.1.value) {
            return first;
        }
        match second {
            Some((verdict, bound)) if !met(bound.value) => (verdict, bound),
            Some((_, bound)) => (Verdict::Clear, bound),
            None => (Verdict::Clear, first.1),
        }
    }
}

/// Where something is found: a text, or a name that the program gives.
pub trait Place {
    /// As a text.
    fn place(self) -> Text;
}

impl Place for Text {
    fn place(self) -> Text {
        self
    }
}

impl Place for String {
    fn place(self) -> Text {
        Text::Name(self)
    }
}

impl Place for &str {
    fn place(self) -> Text {
        Text::name(self)
    }
}

impl Finding {
    /// Judges a value that should reach its bounds. A value that is not a number reaches none.
    ///
    /// `advice` is asked with the verdict and the bound that the finding will show: the breached
    /// one, or where all is clear the one that leaves the most room.
    pub fn at_least(
        rule: &'static str,
        place: impl Place,
        measured: Quantity,
        bounds: Bounds,
        advice: impl FnOnce(Verdict, f64) -> Text,
    ) -> Finding {
        let outcome = bounds.judge(|bound| measured.value >= bound - EVEN);
        Finding::judged(rule, place.place(), measured, outcome, advice)
    }

    /// Judges a value that should not pass its bounds. A value that is not a number passes them.
    ///
    /// `advice` is asked as by [`Finding::at_least`].
    pub fn at_most(
        rule: &'static str,
        place: impl Place,
        measured: Quantity,
        bounds: Bounds,
        advice: impl FnOnce(Verdict, f64) -> Text,
    ) -> Finding {
        let outcome = bounds.judge(|bound| measured.value <= bound + EVEN);
        Finding::judged(rule, place.place(), measured, outcome, advice)
    }

    fn judged(
        rule: &'static str,
        place: Text,
        measured: Quantity,
        (verdict, bound): (Verdict, Bound),
        advice: impl FnOnce(Verdict, f64) -> Text,
    ) -> Finding {
        let limit = Quantity { value: bound.value, unit: measured.unit };
        let advice = advice(verdict, bound.value);
        Finding { rule, place, measured, limit, verdict, advice, basis: bound.basis }
    }
}

/// Lengths that differ by less are one where advice is rounded, mm: what is left over must meet the bound.
const SLACK: f64 = EVEN / 2.0;

/// The next tenth of a millimetre up: a least length in advice, so that to follow it is enough.
pub fn up_to_tenth(length: f64) -> f64 {
    // Rounded up, a hair below nought would be told as less than nought.
    ((length - SLACK) * 10.0).ceil() / 10.0 + 0.0
}

/// The next tenth of a millimetre down: a greatest length in advice, so that to follow it is enough.
pub fn down_to_tenth(length: f64) -> f64 {
    ((length + SLACK) * 10.0).floor() / 10.0
}

/// The gravest verdict among findings; [`Verdict::Clear`] for none.
pub fn gravest<'a>(findings: impl IntoIterator<Item = &'a Finding>) -> Verdict {
    findings.into_iter().map(|finding| finding.verdict).max().unwrap_or(Verdict::Clear)
}

/// Sorts findings, the gravest first; those of one verdict stay in their order.
pub fn gravest_first(findings: &mut [Finding]) {
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gravest_of_none_is_clear_and_stop_outweighs_caution() {
        let with = |verdict| Finding {
            rule: "timber.front",
            place: Text::name("left stile"),
            measured: Quantity::mm(4.0),
            limit: Quantity::mm(5.0),
            verdict,
            advice: Text::given(""),
            basis: Basis::CommonPractice,
        };
        assert_eq!(gravest([]), Verdict::Clear);
        let all = [with(Verdict::Caution), with(Verdict::Stop), with(Verdict::Clear)];
        assert_eq!(gravest(&all), Verdict::Stop);
    }

    #[test]
    fn each_question_has_its_own_answer() {
        let with = |rule: &'static str, verdict| Finding { rule, verdict, ..least(9.0) };
        let answers = |rule| Answers::of(&[with(rule, Verdict::Stop)]);
        for (rule, ordered, cut) in [
            ("timber.front", false, false),
            ("fit.clearance", false, false),
            ("safety.glazing", false, false),
            ("metal.in-path", true, false),
            ("timber.screw", true, false),
            ("passes.cutter-length", true, false),
            ("machine.bed", true, true),
            ("prove.obstacle", true, true),
        ] {
            let found = answers(rule);
            assert_eq!((found.may_be_ordered(), found.may_be_cut()), (ordered, cut), "{rule}");
        }
        assert_eq!(answers("prove.obstacle").wood, Verdict::Clear);
    }

    fn least(measured: f64) -> Finding {
        let caution = Bound { value: 8.0, basis: Basis::CommonPractice };
        let stop = Bound { value: 5.0, basis: Basis::Setting };
        Finding::at_least(
            "timber.front",
            "left stile",
            Quantity::mm(measured),
            Bounds::new(stop, caution),
            |verdict, bound| Text::given(format!("{verdict} {bound}")),
        )
    }

    // A hair over 7.8 mm too little: whether advice says 7.8 or 7.9, it has to be enough.
    #[test]
    fn what_rounded_advice_leaves_over_meets_the_bound() {
        for short in [7.8, 7.8 + 4e-8, 7.8 + 6e-8, 7.800_000_8, 0.049_999_9] {
            let measured = 5.0 - short;
            assert_ne!(least(measured + up_to_tenth(short)).verdict, Verdict::Stop, "{short}");
        }
        assert_eq!([7.8 + 4e-8, 7.8 + 6e-8].map(up_to_tenth), [7.8, 7.9]);
        assert_eq!(least(5.0 - 1e-5).verdict, Verdict::Stop);
    }

    #[test]
    fn a_finding_shows_the_bound_it_breaches_and_its_basis() {
        let stop = least(4.9);
        assert_eq!(
            (stop.verdict, stop.limit, &stop.basis),
            (Verdict::Stop, Quantity::mm(5.0), &Basis::Setting)
        );
        assert_eq!(stop.advised(), "Stop 5.");
        let care = least(5.0 - 1e-12);
        assert_eq!(
            (care.verdict, care.limit, &care.basis),
            (Verdict::Caution, Quantity::mm(8.0), &Basis::CommonPractice)
        );
        let clear = least(8.0);
        assert_eq!((clear.verdict, clear.limit), (Verdict::Clear, Quantity::mm(8.0)));
        assert_eq!(least(f64::NAN).verdict, Verdict::Stop);
    }

    #[test]
    fn at_most_turns_the_rule_round() {
        let most = |measured, bounds| {
            let quantity = Quantity { value: measured, unit: "%" };
            Finding::at_most("fit.spacer-shows", "light 1", quantity, bounds, |_, _| {
                Text::given("")
            })
        };
        let care = most(0.5, Bounds::caution(Bound::geometry(0.0)));
        assert_eq!((care.verdict, care.limit.unit), (Verdict::Caution, "%"));
        assert_eq!(most(0.0, Bounds::stop(Bound::geometry(0.0))).verdict, Verdict::Clear);
        let halved = Bound::geometry(4.0).map(|value| value / 2.0);
        assert_eq!(most(2.5, Bounds::stop(halved)).verdict, Verdict::Stop);
        assert_eq!(most(f64::NAN, Bounds::stop(Bound::geometry(0.0))).verdict, Verdict::Stop);
    }

    #[test]
    fn a_length_in_advice_is_rounded_to_the_side_that_does() {
        assert_eq!((up_to_tenth(28.84), down_to_tenth(28.86)), (28.9, 28.8));
        assert_eq!((up_to_tenth(2.0 + 1e-9), down_to_tenth(2.0 - 1e-9)), (2.0, 2.0));
    }

    #[test]
    fn figures_that_differ_read_differently() {
        assert_eq!(least(4.98).figures(), ["4.98 mm", "5.00 mm"]);
        assert_eq!(least(4.9996).figures(), ["5.000 mm", "5.000 mm"].map(|_| "5.0 mm"));
        assert_eq!(least(4.9).figures(), ["4.9 mm", "5.0 mm"]);
        assert_eq!(least(8.01).figures(), ["8.0 mm", "8.0 mm"]);
    }

    #[test]
    fn a_quantity_never_shows_minus_zero() {
        assert_eq!(Quantity::mm(0.042).to_string(), "0.042 mm");
        assert_eq!(Quantity::mm(-0.000_04).to_string(), "0.0 mm");
    }
}
