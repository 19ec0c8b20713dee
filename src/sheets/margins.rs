//! How far from failure a cut is, in words: for the summary and for the head of each program.

use super::kit::{Voice, fixed, tell};
use crate::geometry::COINCIDENT;
use crate::prove::{Direction, Margins, Span, ZeroError};

/// Lines for the head of a program, in ASCII; none where nothing was measured. Where the sash lies turned by
/// half a turn, the machine's X and Y run against its own.
pub fn remarks(margins: &Margins, turned: bool) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(least) = margins.least_wood() {
        let [x, y] = least.at.map(|at| fixed(at, 0));
        lines.push(format!(
            "proven: least wood {} mm, {}, X{x} Y{y}",
            tenths(least.wood),
            least.part
        ));
    }
    if let Some(zero) = &margins.zero {
        let seen = |span: &Span| {
            let Span { minus, plus } = span.clone();
            if turned { Span { minus: plus, plus: minus } } else { Span { minus, plus } }
        };
        let spans = [seen(&zero.x), seen(&zero.y), zero.z.clone()];
        let all = spans.each_ref().map(|span| both(span, |way| way.by));
        lines.push(format!("zero may be off X {} Y {} Z {} mm", all[0], all[1], all[2]));
        lines.push(format!("or turned so that it runs out {}", runs_out(zero)));
        let wood = spans.each_ref().map(|span| both(span, |way| way.wood));
        lines.push(format!("the wood bears X {} Y {} Z {} mm", wood[0], wood[1], wood[2]));
    }
    if let Some(nearest) = &margins.obstacle {
        lines.push(format!("{} mm from the {}", tenths(nearest.distance), nearest.solid));
    }
    lines
}

/// Sentences for the summary.
pub(super) fn sentences(margins: &Margins, voice: Voice) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(least) = margins.least_wood() {
        let [x, y] = least.at.map(|at| fixed(at, 1));
        lines.push(tell!(
            voice,
            "margin-wood",
            wood = tenths(least.wood),
            part = voice.named(&least.part),
            x,
            y
        ));
    }
    lines.extend(zero(margins, voice));
    if let Some(nearest) = &margins.obstacle {
        lines.push(tell!(
            voice,
            "margin-tool",
            wood = tenths(nearest.distance),
            part = voice.say(&nearest.solid)
        ));
    }
    lines
}

/// How far off the zero may be set; none where nothing limits it.
pub(super) fn zero(margins: &Margins, voice: Voice) -> Option<String> {
    let zero = margins.zero.as_ref()?;
    let axes = [("X", &zero.x), ("Y", &zero.y), ("Z", &zero.z)];
    let span = |minus: f64, plus: f64| {
        tell!(voice, "margin-span", least = far('-', minus), most = far('+', plus))
    };
    let by = axes.map(|(axis, Span { minus, plus })| format!("{axis} {}", span(minus.by, plus.by)));
    let [minus, plus] = zero.runs_out;
    // What it would meet first is told where it stands in the way of the workshop's own zero.
    Some(tell!(
        voice,
        "margin-zero",
        by = by.join(", "),
        out = span(minus, plus),
        length = format!("{:.0}", zero.length)
    ))
}

/// What a turn comes to over the length of the cut: `-0.5 +1.2 mm over 860`.
fn runs_out(zero: &ZeroError) -> String {
    let [minus, plus] = zero.runs_out.map(tenths);
    format!("-{minus} +{plus} mm over {:.0}", zero.length)
}

/// How near the zero has to be set, in a few words; none where nothing limits it.
pub(super) fn zero_brief(margins: &Margins, voice: Voice) -> Option<String> {
    let zero = margins.zero.as_ref()?;
    let near = |axis: &str, span: &Span| {
        let by = tenths(span.minus.by.min(span.plus.by));
        if by == "0.0" {
            tell!(voice, "margin-near", axis)
        } else {
            tell!(voice, "margin-within", axis, by)
        }
    };
    let all = [near("X", &zero.x), near("Y", &zero.y), near("Z", &zero.z)];
    Some(tell!(voice, "margin-set", axes = all.join(", ")))
}

/// `-2.0 +2.5`, rounded towards zero: no more is told than there is.
fn both(span: &Span, value: impl Fn(&Direction) -> f64) -> String {
    format!("{} {}", far('-', value(&span.minus)), far('+', value(&span.plus)))
}

fn far(sign: char, by: f64) -> String {
    format!("{sign}{}", tenths(by))
}

/// Rounded down.
fn tenths(value: f64) -> String {
    fixed((value * 10.0 + COINCIDENT).floor() / 10.0, 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::Text;
    use crate::prove::WoodLeft;

    fn way(by: f64, wood: f64) -> Direction {
        let what = Some(Text::name("left stile, wood beside the cut"));
        Direction { by, limited_by: what.clone(), wood, wood_limited_by: what }
    }

    #[test]
    fn a_coordinate_never_shows_minus_zero() {
        assert_eq!([fixed(-0.04, 1), fixed(-0.05, 2), fixed(-12.3, 0)], ["0.0", "-0.05", "-12"]);
    }

    #[test]
    fn no_more_margin_is_reported_than_there_is() {
        let span = |by: f64| Span { minus: way(by, 30.0), plus: way(50.0, 50.0) };
        let margins = Margins {
            wood: vec![WoodLeft {
                part: "left stile".into(),
                wood: 7.099,
                at: [0.0, 449.6],
                z: -27.0,
                least: 5.0,
                lowest: -27.0,
            }],
            zero: Some(ZeroError {
                x: span(0.4799),
                y: span(2.0 - 1e-9),
                z: span(0.0),
                turn: Span { minus: way(0.039, 30.0), plus: way(0.1, 50.0) },
                runs_out: [0.585, 1.501],
                length: 860.0,
            }),
            ..Margins::default()
        };
        assert_eq!(
            remarks(&margins, false),
            [
                "proven: least wood 7.0 mm, left stile, X0 Y450",
                "zero may be off X -0.4 +50.0 Y -2.0 +50.0 Z -0.0 +50.0 mm",
                "or turned so that it runs out -0.5 +1.5 mm over 860",
                "the wood bears X -30.0 +50.0 Y -30.0 +50.0 Z -30.0 +50.0 mm",
            ]
        );
        // Turned, what was to the left is to the right.
        let turned = remarks(&margins, true);
        assert_eq!(turned[1], "zero may be off X -50.0 +0.4 Y -50.0 +2.0 Z -0.0 +50.0 mm");
        assert_eq!(turned[3], "the wood bears X -50.0 +30.0 Y -50.0 +30.0 Z -30.0 +50.0 mm");
        let text = sentences(&margins, Voice::plain()).join(" ");
        assert!(
            text.contains(
                "Zero may be off by X -0.4 to +50.0 mm, Y -2.0 to +50.0 mm, Z 0.0 to +50.0 mm"
            ),
            "{text}"
        );
        assert_eq!(remarks(&Margins::default(), true), Vec::<String>::new());
    }
}
