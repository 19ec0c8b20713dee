//! What is answered to the questions that a sash is asked: every sentence about wood, order and cutting comes from
//! the one judgement of the report.

use super::kit::{grouped, mm, one_figure};
use crate::finding::{Answers, Finding, Question, Verdict};
use crate::geometry::{MinMax, PerSide};
use crate::language::Language;
use crate::report::{SashLine, SashReport, UnitLine};

/// What is less shows as 0.0 mm: the edge itself.
const SHOWN: f64 = 0.05;

/// The answer in a few words.
pub(super) fn answer(answers: Answers, language: &Language) -> String {
    let Answers { wood, order, cut, programs } = answers;
    let key = match wood.max(order).max(cut).max(programs) {
        Verdict::Clear => "answer-yes",
        Verdict::Caution => "answer-care",
        Verdict::Stop if wood == Verdict::Stop => "answer-wood",
        Verdict::Stop if order == Verdict::Stop => "answer-unit",
        Verdict::Stop if cut == Verdict::Stop => "answer-cut",
        Verdict::Stop => "answer-programs",
    };
    language.tell(key, [])
}

/// How the line of a unit begins.
pub(super) fn ordering(answers: Answers) -> &'static str {
    if answers.may_be_ordered() { "Order" } else { "Do not order yet" }
}

/// Where the unit may be ordered and something still keeps it from being cut: what would free it.
pub(super) fn frees(report: &SashReport) -> Option<String> {
    let answers = report.answers;
    let (question, words) = if !answers.may_be_ordered() {
        return None;
    } else if answers.cut == Verdict::Stop {
        (Question::Cut, "Neither template nor programs yet")
    } else if answers.programs == Verdict::Stop {
        (Question::Programs, "No programs yet; the template is there")
    } else {
        return None;
    };
    let stops =
        |finding: &&Finding| finding.question() == question && finding.verdict == Verdict::Stop;
    let Finding { place, advice, .. } = report.findings.iter().find(stops)?;
    Some(format!("{words}. {place}: {advice}"))
}

/// What is ordered, what is cut and what is left, each after the word for it; so many sizes of units at the most, if any.
pub(super) fn keys(sash: &SashReport, most: usize) -> Vec<(&'static str, String)> {
    let mut keys = orders(sash, most);
    keys.push(("Cut", cut(sash)));
    let putty = sash.materials.as_ref().and_then(|all| Some((all.putty.as_ref()?, all)));
    keys.extend(putty.map(|(putty, all)| {
        let beads = if all.face_beads.is_empty() { "no beads" } else { "beads over the bars alone" };
        let (height, slope) = (figure(putty.height), putty.slope);
        let [least, most] = [slope.least, slope.most].map(|angle| format!("{angle:.0}"));
        let slope = if least == most { most } else { format!("{least} to {most}") };
        let words = format!(
            "face putty {height} mm high at {slope} degrees, {beads}; sealant keeps its oil off the edge seal. Paint it \
             after a week."
        );
        ("Putty", words)
    }));
    keys.extend(sash.timber.least_left().map(|(place, least)| {
        let from = if least.from_sight < SHOWN {
            "at the sight edge".to_owned()
        } else {
            format!("{:.1} mm from the sight edge", least.from_sight)
        };
        let left = figure(least.wood.max(0.0));
        ("Left", format!("{left} mm of wood under the glass, {place}, {from}."))
    }));
    keys
}

/// Units to order, like ones together.
fn orders(sash: &SashReport, most: usize) -> Vec<(&'static str, String)> {
    let like = |a: &UnitLine, b: &UnitLine| {
        a.order == b.order
            && a.shape == b.shape
            && a.sight == b.sight
            && a.internal_bars == b.internal_bars
    };
    let groups = grouped(&sash.units, like, |unit| unit.light.as_str());
    let told = groups.iter().take(most).enumerate().map(|(index, (unit, lights))| {
        let count = lights.len();
        let weight = unit.weight.map_or_else(String::new, |kg| format!(", {kg:.1} kg"));
        let at = if sash.units.len() == count {
            String::new()
        } else {
            format!(" for {}", lights.join(", "))
        };
        let [width, height] = [unit.order.width, unit.order.height].map(figure);
        let size = format!("{count} of {width} x {height} mm{at}");
        if index == 0 {
            let thick = figure(unit.thickness);
            (
                ordering(sash.answers),
                format!("{size}, {thick} mm thick{weight}: {}.", made_of(unit)),
            )
        } else {
            ("", format!("{size}{weight}."))
        }
    });
    let mut told: Vec<_> = told.collect();
    if most > 0 && groups.len() > most {
        let more = groups.len() - most;
        told.push(("", format!("and {more} more sizes: glass-order.pdf has them all.")));
    }
    told
}

/// What a unit is made of, as far as the survey states it.
fn made_of(unit: &UnitLine) -> String {
    let make = format!("{} ({})", unit.build_up, unit.make);
    match unit.unstated.as_slice() {
        [] => make,
        open => format!("{make}. Ask the maker: {}", open.join(", ")),
    }
}

/// `rebate 14 mm wide (bottom 16 mm), 27 mm deep; 703 cm³ of wood goes`.
fn cut(sash: &SashReport) -> String {
    let all = sash.rebate_widths();
    let widths: PerSide<String> = PerSide::from_fn(|side| {
        all.map_or_else(String::new, |all| {
            let MinMax { least, most } = *all.get(side);
            let (least, most) = (figure(least), figure(most));
            if least == most { least } else { format!("{least} to {most}") }
        })
    });
    let even = widths.left == widths.right && widths.left == widths.top;
    let width = if even && widths.left == widths.bottom {
        format!("{} mm wide", widths.left)
    } else if even {
        format!("{} mm wide (bottom {} mm)", widths.left, widths.bottom)
    } else {
        let sides: Vec<(String, String)> =
            widths.iter().map(|(side, width)| (side.to_string(), format!("{width} mm"))).collect();
        format!("{} wide", one_figure(&sides))
    };
    format!(
        "rebate {width}, {} mm deep; {:.0} cm³ of wood goes.",
        figure(sash.rebate_depth),
        sash.wood_removed
    ) + &sash.minutes().map_or_else(String::new, |minutes| {
        let count = counted(sash.programs.len());
        format!(" {count}, {} at the machine, proven.", time(minutes))
    })
}

/// `1 program`, `5 programs`.
pub(super) fn counted(programs: usize) -> String {
    format!("{programs} program{}", if programs == 1 { "" } else { "s" })
}

/// Whether a sash can take its unit, in a word.
pub(super) fn in_a_word(sash: &SashLine) -> &'static str {
    match sash.verdict {
        Verdict::Clear => "yes",
        Verdict::Caution => "care",
        Verdict::Stop if sash.may_be_ordered() => "not yet",
        Verdict::Stop => "no",
    }
}

/// [`mm`] in a sentence; a report holds no number that is not finite.
pub(super) fn figure(length: f64) -> String {
    mm(length).unwrap_or_else(|not| not.to_string())
}

/// Times over ten minutes to five minutes: `4 min`, `40 min`, `1 h 50`.
pub(super) fn time(minutes: f64) -> String {
    let step = if minutes > 10.0 { 5.0 } else { 1.0 };
    let minutes = (minutes / step).round() * step;
    let hours = (minutes / 60.0).floor();
    if hours < 1.0 {
        return format!("{minutes:.0} min");
    }
    format!("{hours:.0} h {:02.0}", minutes - 60.0 * hours)
}

#[cfg(test)]
mod tests {
    use super::time;

    #[test]
    fn times_are_told_as_one_plans_a_day() {
        assert_eq!([4.2, 37.4, 109.0, 59.0].map(time), ["4 min", "35 min", "1 h 50", "1 h 00"]);
    }
}
