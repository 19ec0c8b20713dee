//! The cut as it goes on: the way of the cutter over the sash, coloured by depth, with time to be run through; and what
//! was found of the programs, each fault at its place.
//!
//! Everything comes from the text of the programs as the prover reads it and sweeps it through the wood.

use super::rules::frame;
use super::view::{found_of, page};
use crate::finding::Verdict;
use crate::job::Followed;
use crate::prove::{Fault, Program, Step};
use crate::sheets::kit::{Voice, tell};
use crate::sheets::summary;
use maud::{Markup, PreEscaped, html};
use std::collections::BTreeMap;
use std::fmt::Write;

/// What is to be seen of a sash.
pub(super) struct Cut<'a> {
    pub number: usize,
    pub id: &'a str,
    /// The names of its own programs, as they are run.
    pub own: &'a [String],
    /// What is run.
    pub programs: &'a [Program<'a>],
    /// Where that goes; none where there is nothing to run.
    pub followed: Option<&'a Followed>,
    /// What was handed in, and in place of which program.
    pub handed_in: Option<(&'a str, &'a str)>,
    /// How it is told.
    pub voice: Voice,
}

pub(super) fn cut(cut: &Cut<'_>) -> String {
    let Cut { number, id, own, programs, followed, handed_in, voice } = cut;
    let (text, instead) = handed_in.unzip();
    let body = html! {
        nav { a href={ "/sash/" (number) } { (id) } }
        main {
            h1 { (tell!(voice, "page-cut", sash = id)) }
            @match followed {
                Some(followed) => {
                    @if let Some(instead) = instead { (found(followed, instead, *voice)) }
                    @if !followed.steps.is_empty() { (over_time(followed, programs, *voice)) }
                    (faults(followed, programs, *voice))
                },
                None => p { (voice.word("page-no-programs")) },
            }
            h2 { (voice.word("page-prove")) }
            p { (voice.word("page-prove-how")) }
            form method="post" action={ "/sash/" (number) "/cut" } {
                label for="program" { (voice.word("page-program")) }
                textarea id="program" name="program" rows="8" spellcheck="false" { (text.unwrap_or_default()) }
                @if !own.is_empty() {
                    p.field {
                        label for="instead" { (voice.word("page-run")) }
                        select id="instead" name="instead" {
                            option value="" { (voice.word("page-alone")) }
                            @for name in *own {
                                option value=(name) selected[instead == Some(name)] { (tell!(voice, "page-in-place", name)) }
                            }
                        }
                    }
                }
                button { (voice.word("page-prove-it")) }
            }
        }
        script src="/cut.js" defer {}
    };
    page(&tell!(voice, "page-cut", sash = id), 0, &body, *voice)
}

/// What the proof says of what was handed in: the answer, and all of it to be folded open.
fn found(followed: &Followed, instead: &str, voice: Voice) -> Markup {
    let words = summary::proof(&followed.proof, (summary::WIDTH, voice));
    let answer = words.trim_end().lines().next_back().unwrap_or_default();
    html! {
        @if !instead.is_empty() { p { (tell!(voice, "page-run-in-place", name = instead)) } }
        p class={ "answer " (followed.proof.verdict()) } role="status" { (answer) }
        details.more {
            summary { (voice.word("page-whole-proof")) }
            pre.found tabindex="0" { (words) }
        }
    }
}

/// Most steps that depth is coloured in.
const MOST_BANDS: u8 = 6;

/// How deep each step of colour goes, mm: the least even one that is enough.
fn band_depth(deepest: f64) -> f64 {
    let even = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0];
    even.into_iter().find(|step| step * f64::from(MOST_BANDS) > deepest).unwrap_or(deepest)
}

fn depth(step: &Step) -> f64 {
    -step.passage.z[0].min(step.passage.z[1])
}

/// How a move is drawn: by its depth, or as one that cuts nothing.
fn class(step: &Step, deep: f64) -> String {
    match depth(step) {
        _ if step.passage.rapid => "rapid".to_owned(),
        depth if depth <= 0.0 => "above".to_owned(),
        depth => format!("b{:.0}", (depth / deep).floor().min(f64::from(MOST_BANDS - 1))),
    }
}

/// A move as SVG has it, in the sash's frame: X right, Y up.
fn way(step: &Step, way: &mut String) {
    let path = &step.passage.path;
    let (from, curvature) = (path.start(), path.curvature());
    // Writing to a String cannot fail.
    let _ = write!(way, "M{:.2} {:.2}", from.x, from.y);
    // An arc in halves: a whole turn has no two ends.
    for to in [path.at(0.5), path.end()] {
        let _ = match 1.0 / curvature.abs() {
            radius if radius.is_finite() => {
                let left = u8::from(curvature > 0.0);
                write!(way, "A{radius:.3} {radius:.3} 0 0 {left} {:.2} {:.2}", to.x, to.y)
            }
            _ => write!(way, "L{:.2} {:.2}", to.x, to.y),
        };
    }
}

/// A stage: what a program does between two pauses.
struct Stage<'a> {
    name: String,
    /// When it begins, s.
    from: f64,
    steps: &'a [Step],
}

fn stages<'a>(steps: &'a [Step], programs: &[Program], voice: Voice) -> Vec<Stage<'a>> {
    let mut from = 0.0;
    let parts = steps.chunk_by(|a, b| (a.program, a.part) == (b.program, b.part));
    let stages = parts.filter_map(|steps| {
        let Step { program, part, .. } = steps.first()?;
        let name = programs.get(*program)?.name.trim_end_matches(".ngc");
        let name = match part {
            0 => name.to_owned(),
            _ => tell!(voice, "page-after-stop", name, part = *part),
        };
        let begins = from;
        from += seconds(steps);
        Some(Stage { name, from: begins, steps })
    });
    stages.collect()
}

fn seconds(steps: &[Step]) -> f64 {
    steps.iter().map(|step| step.minutes * 60.0).sum()
}

/// When the cutter is first at a fault, s.
fn moment(fault: &Fault, steps: &[Step], programs: &[Program]) -> Option<f64> {
    let (name, line) = (fault.program.as_ref()?, fault.line?);
    let program = programs.iter().position(|program| program.name == name)?;
    let at = steps.iter().position(|step| step.program == program && step.line == line)?;
    steps.get(..=at).map(seconds)
}

fn over_time(followed: &Followed, programs: &[Program], voice: Voice) -> Markup {
    let steps = &followed.steps;
    let deepest = steps.iter().map(depth).fold(0.0, f64::max);
    let deep = band_depth(deepest);
    let stages = stages(steps, programs, voice);
    let whole = seconds(steps);
    let bands = (0..MOST_BANDS).take_while(|band| f64::from(*band) * deep < deepest);
    // All of the picture is one group, which the lens shows again; what is taken lies on the timber
    // and under all other lines.
    let picture = followed.picture.svg.trim_end().trim_end_matches("</svg>");
    let picture =
        picture.replacen('>', "><g id=\"whole\" fill=\"none\" stroke-linejoin=\"round\">", 1);
    let over_timber = picture.match_indices("<g data-layer").nth(1).map_or(0, |(at, _)| at);
    let (ground, lines) = picture.split_at_checked(over_timber).unwrap_or(("", &picture));
    let ([left, top], frame) = (followed.picture.corner, frame(&followed.picture));
    html! {
        div.cut {
            figure.elevation {
                (PreEscaped(ground))
                g transform=(frame) { (moves(steps, &stages, deep, voice)) }
                (PreEscaped(format!("{lines}<g transform=\"{frame}\">")))
                @for stage in &stages { (ways(stage.steps, deep)) }
                circle #cutter r=(steps.last().map_or(0.0, |step| step.radius)) {}
                (places(followed))
                (PreEscaped("</g></g></svg>"))
                figcaption { (voice.word("page-cut-seen")) }
            }
            div {
                div #run hidden data-whole=(format!("{whole:.2}")) data-words=(words(voice)) {
                    p.field {
                        label for="stage" { (voice.word("page-stage")) }
                        select #stage {
                            @for stage in &stages { option value=(format!("{:.2}", stage.from)) { (stage.name) } }
                        }
                    }
                    label for="time" { b { (voice.word("page-time")) } }
                    input #time type="range" min="0" max=(format!("{:.0}", whole.ceil())) step="1" value=(format!("{:.0}", whole.ceil()));
                    div.row {
                        button.plain type="button" data-move="-1" { (voice.word("page-back")) }
                        button.plain type="button" data-move="1" { (voice.word("page-on")) }
                    }
                    div.row {
                        svg #lens role="img" aria-label=(voice.word("page-lens")) data-left=(format!("{left:.3}")) data-top=(format!("{top:.3}")) {
                            use href="#whole" {}
                        }
                        dl #figures {}
                    }
                }
                ul.legend {
                    @for band in bands {
                        li {
                            (line(&format!("b{band}")))
                            @let (from, to) = (f64::from(band) * deep, f64::from(band + 1) * deep);
                            (voice.said(&tell!(voice, "page-deep", from = from.to_string(), to = to.to_string())))
                        }
                    }
                    li { (line("above")) (voice.word("page-at-feed")) }
                    li { (line("rapid")) (voice.word("page-rapid-way")) }
                }
            }
        }
    }
}

/// What the script says, one text a line; it puts its figures for %1 and %2.
fn words(voice: Voice) -> String {
    let (one, other) = ("%1", "%2");
    [
        voice.word("page-time"),
        tell!(voice, "page-time-of", now = one, whole = other),
        voice.word("page-stage"),
        tell!(voice, "page-stage-line", stage = one, line = other),
        voice.word("page-cutter"),
        tell!(voice, "page-below-face", length = one),
        tell!(voice, "page-above-face", length = one),
        voice.word("page-takes"),
        tell!(voice, "page-takes-wood", length = one),
        voice.word("page-takes-none"),
        voice.word("page-left-below"),
        voice.word("page-none-cut"),
        voice.word("page-least"),
    ]
    .map(|text| text.replace('\n', " "))
    .join("\n")
}

fn line(class: &str) -> Markup {
    html! { svg width="64" height="16" aria-hidden="true" { path class={ "way " (class) } d="M2 8H62" {} } }
}

/// Every move, as wide as its cutter: what it takes is there once it has been made.
fn moves(steps: &[Step], stages: &[Stage], deep: f64, voice: Voice) -> Markup {
    let mut parts: BTreeMap<&str, usize> = BTreeMap::new();
    let mut time = 0.0;
    let numbered = stages
        .iter()
        .enumerate()
        .flat_map(|(stage, of)| of.steps.iter().map(move |step| (stage, step)));
    let drawn: Vec<[String; 4]> = numbered
        .map(|(stage, step)| {
            time += step.minutes * 60.0;
            let mut left = String::new();
            for (share, found) in &step.left {
                let _ = match found {
                    Some(found) => {
                        let next = parts.len();
                        let part = parts.entry(&found.part).or_insert(next);
                        write!(left, "{share:.4},{:.2},{part};", found.wood)
                    }
                    None => write!(left, "{share:.4};"),
                };
            }
            let [from, to] = step.passage.z;
            let told =
                format!("{time:.2},{stage},{},{from:.2},{to:.2},{:.2}", step.line, step.taken);
            let mut d = String::new();
            way(step, &mut d);
            let class = if step.taken > 0.0 { class(step, deep) } else { "nothing".to_owned() };
            [d, class, told, left]
        })
        .collect();
    let mut names: Vec<(&str, usize)> = parts.into_iter().collect();
    names.sort_by_key(|(_, index)| *index);
    let names: Vec<String> = names.into_iter().map(|(name, _)| voice.named(name)).collect();
    html! {
        g #moves data-parts=(names.join("|")) {
            @for ([d, class, told, left], step) in drawn.iter().zip(steps) {
                path class=(class) d=(d) stroke-width=(format!("{:.2}", 2.0 * step.radius)) data-s=(told) data-left=(left) {}
            }
        }
    }
}

/// The way of the cutter's axis in a stage, alike with alike; the deepest last, over all others.
fn ways(steps: &[Step], deep: f64) -> Markup {
    let mut drawn: BTreeMap<String, String> = BTreeMap::new();
    for step in steps.iter().filter(|step| step.passage.path.length() > 0.0) {
        let order = match class(step, deep) {
            air if air == "rapid" => "0rapid".to_owned(),
            air if air == "above" => "1above".to_owned(),
            band => format!("2{band}"),
        };
        way(step, drawn.entry(order).or_default());
    }
    html! {
        g.ways {
            @for (class, d) in &drawn { path class={ "way " (class.get(1..).unwrap_or_default()) } d=(d) {} }
        }
    }
}

/// The numbered places of faults.
fn places(followed: &Followed) -> Markup {
    html! {
        @for (index, fault) in all(followed) {
            @if let Some([x, y, _]) = fault.at {
                g.place transform=(format!("translate({x:.2} {y:.2}) scale(1 -1)")) {
                    circle r="14" {}
                    text text-anchor="middle" y="7" font-size="20" { (index) }
                }
            }
        }
    }
}

/// Everything that was found, numbered from 1.
fn all(followed: &Followed) -> impl Iterator<Item = (usize, &Fault)> {
    (1..).zip(followed.proof.faults.iter().chain(&followed.proof.cautions))
}

/// Lines of a program shown before and after one at which something was found.
const AROUND: usize = 2;

/// What was found, each with the lines of the program that it stands at.
fn faults(followed: &Followed, programs: &[Program], voice: Voice) -> Markup {
    let text = |fault: &Fault| {
        let program =
            programs.iter().find(|program| Some(program.name) == fault.program.as_deref());
        program.map(|program| program.text).unwrap_or_default()
    };
    html! {
        @if all(followed).next().is_some() {
            h2 { (voice.word("page-wrong")) }
            ol.faults {
                @for (index, fault) in all(followed) {
                    li {
                        p.mistake[fault.finding.verdict == Verdict::Stop] { (found_of(&fault.finding, voice)) }
                        @if fault.count > 1 { p { (tell!(voice, "page-times", count = fault.count)) } }
                        @if let Some(moment) = moment(fault, &followed.steps, programs) {
                            button.plain.see type="button" hidden data-time=(format!("{moment:.2}")) {
                                (tell!(voice, "page-see-line", line = fault.line.unwrap_or_default()))
                            }
                        }
                        @let place = |fault: &Fault| (fault.program.clone(), fault.line);
                        @let before = all(followed).find(|(before, _)| before + 1 == index);
                        @if before.is_none_or(|(_, before)| place(before) != place(fault)) && let Some(line) = fault.line {
                            (lines(text(fault), line))
                        }
                    }
                }
            }
        }
    }
}

/// A line of a program and those around it.
fn lines(text: &str, wrong: usize) -> Markup {
    let lines = text.lines().enumerate().map(|(index, line)| (index + 1, line));
    let near: Vec<_> = lines.filter(|(number, _)| number.abs_diff(wrong) <= AROUND).collect();
    html! {
        ol.lines {
            @for (number, line) in near {
                li value=(number) {
                    @if number == wrong { mark { code { (line) } } } @else { code { (line) } }
                }
            }
        }
    }
}
