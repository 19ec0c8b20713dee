//! What is answered to the questions that a sash is asked: every sentence about wood, order and cutting comes from
//! the one judgement of the report.

use super::found;
use super::kit::{Voice, figure, grouped, in_a_row, one_figure, range, tell};
use crate::finding::{Answers, Finding, Question, Verdict};
use crate::geometry::{MinMax, PerSide};
use crate::report::{SashLine, SashReport, UnitLine};

/// What is less shows as 0.0 mm: the edge itself.
const SHOWN: f64 = 0.05;

/// The answer in a few words.
pub(super) fn answer(answers: Answers, voice: Voice) -> String {
    let Answers { wood, order, cut, programs } = answers;
    voice.word(match wood.max(order).max(cut).max(programs) {
        Verdict::Clear => "answer-yes",
        Verdict::Caution => "answer-care",
        Verdict::Stop if wood == Verdict::Stop => "answer-wood",
        Verdict::Stop if order == Verdict::Stop => "answer-unit",
        Verdict::Stop if cut == Verdict::Stop => "answer-cut",
        Verdict::Stop => "answer-programs",
    })
}

/// How the line of a unit begins, by its key.
pub(super) fn ordering(answers: Answers) -> &'static str {
    if answers.may_be_ordered() { "answer-order" } else { "answer-not-yet" }
}

/// Where the unit may be ordered and something still keeps it from being cut: what would free it.
pub(super) fn frees(report: &SashReport, voice: Voice) -> Option<String> {
    let answers = report.answers;
    let (question, key) = if !answers.may_be_ordered() {
        return None;
    } else if answers.cut == Verdict::Stop {
        (Question::Cut, "answer-frees-cut")
    } else if answers.programs == Verdict::Stop {
        (Question::Programs, "answer-frees-programs")
    } else {
        return None;
    };
    let stop = stop_on(report, question)?;
    let (place, advice) = (voice.say(&stop.place), found::advice(stop, voice));
    Some(tell!(voice, key, place, advice))
}

/// The first that stops a sash on a question.
pub(super) fn stop_on(report: &SashReport, question: Question) -> Option<&Finding> {
    let stops =
        |finding: &&Finding| finding.question() == question && finding.verdict == Verdict::Stop;
    report.findings.iter().find(stops)
}

/// What is ordered, what is cut and what is left, each after the word for it; so many sizes of units at the most, if any.
pub(super) fn keys(sash: &SashReport, most: usize, voice: Voice) -> Vec<(String, String)> {
    let mut keys = orders(sash, most, voice);
    keys.push((voice.word("answer-cut-label"), cut(sash, voice)));
    let putty = sash.materials.as_ref().and_then(|all| Some((all.putty.as_ref()?, all)));
    keys.extend(putty.map(|(putty, all)| {
        let key = if all.face_beads.is_empty() { "answer-putty" } else { "answer-putty-and-beads" };
        let slope = <[f64; 2]>::from(putty.slope).map(|angle| format!("{angle:.0}"));
        let slope = range(slope, voice);
        let told = tell!(voice, key, height = figure(putty.height), slope);
        (voice.word("answer-putty-label"), told)
    }));
    keys.extend(sash.timber.least_left().map(|(place, least)| {
        let from = if least.from_sight < SHOWN {
            voice.word("answer-at-edge")
        } else {
            tell!(voice, "answer-from-edge", from = format!("{:.1}", least.from_sight))
        };
        let (left, place) = (figure(least.wood.max(0.0)), voice.named(place));
        (voice.word("answer-left-label"), tell!(voice, "answer-left-wood", left, place, from))
    }));
    keys
}

/// Units to order, like ones together.
fn orders(sash: &SashReport, most: usize, voice: Voice) -> Vec<(String, String)> {
    let like = |a: &UnitLine, b: &UnitLine| {
        a.order == b.order
            && a.shape == b.shape
            && a.sight == b.sight
            && a.internal_bars == b.internal_bars
    };
    let groups = grouped(&sash.units, like, |unit| unit.light.as_str());
    let told = groups.iter().take(most).enumerate().map(|(index, (unit, lights))| {
        let count = lights.len();
        let [width, height] = [unit.order.width, unit.order.height].map(figure);
        let size = if sash.units.len() == count {
            tell!(voice, "answer-size", count, width, height)
        } else {
            let lights = voice.named(&lights.join(", "));
            tell!(voice, "answer-size-for", count, width, height, lights)
        };
        let size = match (index, unit.weight.map(|kg| format!("{kg:.1}"))) {
            (0, None) => tell!(voice, "answer-thick", size, thick = figure(unit.thickness)),
            (0, Some(kg)) => {
                tell!(voice, "answer-thick-weighs", size, thick = figure(unit.thickness), kg)
            }
            (_, None) => size,
            (_, Some(kg)) => tell!(voice, "answer-weighs", size, kg),
        };
        if index == 0 {
            (voice.word(ordering(sash.answers)), format!("{size}: {}.", made_of(unit, voice)))
        } else {
            (String::new(), format!("{size}."))
        }
    });
    let mut told: Vec<_> = told.collect();
    if most > 0 && groups.len() > most {
        let more = groups.len() - most;
        told.push((String::new(), tell!(voice, "answer-more-sizes", more)));
    }
    told
}

/// What a unit is made of, as far as the survey states it.
fn made_of(unit: &UnitLine, voice: Voice) -> String {
    let make = format!("{} ({})", unit.build_up, voice.named(&unit.make));
    if unit.unstated.is_empty() {
        return make;
    }
    tell!(voice, "answer-ask", make, what = voice.named(&unit.unstated.join(", ")))
}

/// `rebate 14 mm wide (bottom 16 mm), 27 mm deep; 703 cm³ of wood goes`.
fn cut(sash: &SashReport, voice: Voice) -> String {
    let all = sash.rebate_widths();
    let widths: PerSide<String> = PerSide::from_fn(|side| {
        let told =
            |all: PerSide<MinMax>| range(<[f64; 2]>::from(*all.get(side)).map(figure), voice);
        all.map_or_else(String::new, told)
    });
    let even = widths.left == widths.right && widths.left == widths.top;
    let width = if even && widths.left == widths.bottom {
        tell!(voice, "answer-wide", width = widths.left)
    } else if even {
        tell!(voice, "answer-wide-bottom", width = widths.left, bottom = widths.bottom)
    } else {
        let sides = widths.iter().map(|(side, width)| {
            (voice.named(&side.to_string()), tell!(voice, "length-mm", length = width))
        });
        tell!(voice, "answer-wide-sides", widths = one_figure(&sides.collect::<Vec<_>>()))
    };
    let wood = format!("{:.0}", sash.wood_removed);
    let cut = tell!(voice, "answer-cut-how", width, depth = figure(sash.rebate_depth), wood);
    let run = sash.minutes().map_or_else(String::new, |minutes| {
        let (count, time) = (sash.programs.len(), time(minutes, voice));
        tell!(voice, "answer-run", count, time)
    });
    in_a_row([cut, run])
}

/// A verdict in a word, by its key.
pub(super) fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Clear => "answer-word-yes",
        Verdict::Caution => "answer-word-care",
        Verdict::Stop => "answer-word-no",
    }
}

/// Whether a sash can take its unit, in a word, by its key.
pub(super) fn in_a_word(sash: &SashLine) -> &'static str {
    match sash.verdict {
        Verdict::Stop if sash.may_be_ordered() => "answer-word-not-yet",
        verdict => word(verdict),
    }
}

/// Times over ten minutes to five minutes: `4 min`, `40 min`, `1 h 50`.
pub(super) fn time(minutes: f64, voice: Voice) -> String {
    let step = if minutes > 10.0 { 5.0 } else { 1.0 };
    let minutes = (minutes / step).round() * step;
    let hours = (minutes / 60.0).floor();
    if hours < 1.0 {
        return tell!(voice, "answer-minutes", minutes = format!("{minutes:.0}"));
    }
    let minutes = format!("{:02.0}", minutes - 60.0 * hours);
    tell!(voice, "answer-hours", hours = format!("{hours:.0}"), minutes)
}

#[cfg(test)]
mod tests {
    use super::time;
    use crate::sheets::kit::Voice;

    #[test]
    fn times_are_told_as_one_plans_a_day() {
        let time = |minutes| time(minutes, Voice::plain());
        assert_eq!([4.2, 37.4, 109.0, 59.0].map(time), ["4 min", "35 min", "1 h 50", "1 h 00"]);
    }
}
