//! What the page shows: the five questions, each with its answer in its heading, and the picture.

use super::draft::Draft;
use super::fields::{self, Field, Group};
use super::rules;
use super::share::Share;
use crate::finding::{Finding, Verdict};
use crate::job::{self, Look, Picture};
use crate::report::{CannotBeCut, SashReport};
use crate::sheets::Told;
use crate::sheets::found;
use crate::sheets::kit::{Voice, figure, tell};
use crate::survey::{self, House};
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// A whole page.
pub(super) fn page(title: &str, version: u64, body: &Markup, voice: Voice) -> String {
    let page = html! {
        (DOCTYPE)
        html lang=(voice.lang()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                link rel="stylesheet" href="/page.css";
                script src="/page.js" defer {}
                script src="/picture.js" defer {}
            }
            body data-version=(version) data-gone=(voice.word("page-gone")) data-not-taken=(voice.word("page-not-taken-why")) {
                (body)
                footer { p { (voice.word("page-caution")) } }
            }
        }
    };
    page.into_string()
}

/// A message in place of a page.
pub(super) fn message(title: &str, words: &str, voice: Voice) -> String {
    let body = html! {
        main { h1 { (title) } p { (words) } p { a href="/" { (voice.word("page-to-house")) } } }
    };
    page(title, 0, &body, voice)
}

fn version(draft: &Draft) -> Markup {
    html! { input type="hidden" name="version" value=(draft.version()); }
}

/// The id of a sash of the text.
pub(super) fn id(draft: &Draft, number: usize) -> Option<String> {
    sashes(draft).into_iter().find(|(own, _)| *own == number).map(|(_, id)| id)
}

/// The sashes of the text: number and id.
fn sashes(draft: &Draft) -> Vec<(usize, String)> {
    let id = |number: usize| {
        let id = draft.written(&format!("sash[{number}].id"));
        id.filter(|id| !id.is_empty()).unwrap_or_else(|| format!("sash {number}"))
    };
    (1..=draft.count("sash")).map(|number| (number, id(number))).collect()
}

/// The sash of the last good house that the text's sash of that id tells: the first of several that are alike.
pub(super) fn measured<'h>(house: &'h House, id: &str) -> Option<&'h survey::Sash> {
    let first = format!("{id}-1");
    house.sashes.iter().find(|sash| sash.id == id || sash.id == first)
}

/// How the work stands with the file.
fn state(draft: &Draft, voice: Voice) -> Markup {
    let name = draft.path().file_name().unwrap_or_default().to_string_lossy().into_owned();
    html! {
        p #state data-live {
            @if draft.is_unsaved() { (tell!(voice, "page-unsaved", name)) }
            @else { (tell!(voice, "page-saved", name)) }
        }
        form method="post" action="/save" { button { (tell!(voice, "page-save", name)) } }
    }
}

/// What is wrong and does not stand open to the eye: whatever is at none of the fields `seen`.
fn elsewhere(draft: &Draft, shown: Option<usize>, seen: &[String], voice: Voice) -> Markup {
    let others = draft.mistakes().iter().filter(|mistake| !seen.contains(&mistake.key));
    let others: Vec<_> = others.collect();
    let whole = draft.mistakes().is_empty();
    html! {
        div #elsewhere data-live role="status" {
            @if let Some(why) = draft.no_record() { p.mistake { (why) } }
            @for mistake in &others {
                p.mistake {
                    @match sash_of(&mistake.key) {
                        Some(number) if Some(number) == shown => a href={ "#" (mistake.key) } { (mistake.key) },
                        Some(number) => a href={ "/sash/" (number) } { (mistake.key) },
                        None => (mistake.key),
                    }
                    ": " (fields::told(mistake, voice))
                }
            }
            @if !whole && draft.house().is_some() {
                p { (voice.word("page-last-answers")) }
            }
        }
    }
}

fn sash_of(key: &str) -> Option<usize> {
    key.strip_prefix("sash[")?.split_once(']')?.0.parse().ok()
}

/// The house: its sashes, each in a line.
pub(super) fn house(draft: &Draft, share: Option<&Share>) -> String {
    let (found, voice) = (draft.house(), voice(draft));
    let rows: Vec<(usize, String, String)> = sashes(draft)
        .into_iter()
        .map(|(number, id)| {
            let own = format!("sash[{number}].");
            let open = draft.mistakes().iter().filter(|mistake| mistake.key.starts_with(&own));
            let words = match (
                open.count(),
                found.and_then(|(house, record, _)| {
                    Some(job::look(house, measured(house, &id)?, record))
                }),
            ) {
                (0, Some(Ok(look))) => Told::of(&look.report, voice).headline,
                (0, Some(Err(none))) => cannot(&none, voice),
                (0, None) => voice.word("page-not-answered"),
                (open, _) => tell!(voice, "page-open-measures", open),
            };
            (number, id, words)
        })
        .collect();
    let name = draft.written("house").unwrap_or_default();
    let title = if name.is_empty() { voice.word("page-a-house") } else { name.clone() };
    let body = html! {
        main {
            h1 { (title) }
            (state(draft, voice))
            form.fields method="post" action="/set" {
                (version(draft))
                label for="house" { (voice.word("page-name-of-house")) }
                input id="house" name="house" value=(name) autocomplete="off";
                button.plain { (voice.word("page-take-over")) }
            }
            (elsewhere(draft, None, &[], voice))
            h2 { (voice.word("page-sashes")) }
            ul.sashes #sashes data-live {
                @for (number, id, words) in &rows {
                    li { a href={ "/sash/" (number) } { b { (id) } " " (words) } }
                }
            }
            form method="post" action="/add" {
                input type="hidden" name="list" value="sash";
                button { (voice.word(if rows.is_empty() { "page-add-first" } else { "page-add-sash" })) }
            }
            p { a href="/workshop" { (voice.word("page-workshop-about")) } }
            h2 { (voice.word("page-take-away")) }
            p { a.button href="/away" { (voice.word("page-make")) } }
            @if let Some(share) = share {
                h2 { (voice.word("page-telephone")) }
                p { (voice.word("page-telephone-how")) }
                (share.picture(voice))
                p { code { (share.address) } }
            }
        }
    };
    page(&title, draft.version(), &body, voice)
}

/// How the survey asks to be told, as it could be read last.
pub(super) fn voice(draft: &Draft) -> Voice {
    draft.house().map_or_else(Voice::plain, |(house, ..)| Voice::of(&house.workshop.printer))
}

/// What a room has found, as `voice` says it.
pub(super) fn found_of(finding: &Finding, voice: Voice) -> String {
    voice.said(&found::told(finding, voice))
}

fn cannot(none: &CannotBeCut, voice: Voice) -> String {
    let first = none.findings.first().map(|first| found_of(first, voice));
    first.unwrap_or_else(|| voice.word("page-no-cut"))
}

/// A sash and the five questions; none where the survey has no such sash.
pub(super) fn sash(draft: &Draft, number: usize) -> Option<String> {
    let id = id(draft, number)?;
    let found = draft.house().and_then(|(house, record, _)| {
        let sash = measured(house, &id)?;
        Some((sash, job::look(house, sash, record)))
    });
    let answer = found.as_ref().and_then(|(_, look)| look.as_ref().ok());
    let voice = voice(draft);
    let told = answer.map(|look| Told::of(&look.report, voice));
    let there = found.as_ref().map(|(sash, _)| voice.said(&there(sash, voice))).unwrap_or_default();
    let in_it = answer.map(|look| voice.said(&goes_in(look, voice))).unwrap_or_default();
    let [rest_there, rest_in] = fields::rest(draft, number, voice);
    let headline = match (&told, &found) {
        (Some(told), _) => told.headline.clone(),
        (None, Some((_, Err(none)))) => cannot(none, voice),
        _ => voice.word("page-measures-missing"),
    };
    let verdict = answer.map_or_else(String::new, |look| look.report.verdict.to_string());
    let key = |wanted: &str| {
        let wanted = voice.word(wanted);
        let keys = told.iter().flat_map(|told| &told.keys);
        keys.filter(|(label, _)| *label == wanted).map(|(_, words)| words.as_str()).next()
    };
    let bars = draft.count(&format!("sash[{number}].bars"));
    let first = fields::first(draft, number, voice);
    let seen: Vec<String> = first.iter().flat_map(|(_, keys)| keys.clone()).collect();
    let body = html! {
        nav { a href="/" { (voice.word("page-house")) } }
        main.two {
            div.questions {
                h1 { (id) }
                p #answer data-live class={ "answer " (verdict) } { (headline) }
                (state(draft, voice))
                (elsewhere(draft, Some(number), &seen, voice))
                form #measures method="post" action="/set" {
                    (version(draft))
                    (question("there", &voice.word("page-there"), &there, true, &html! {
                        @for (field, keys) in &first { (shown(field, keys)) }
                        (groups("page-not-asked", &rest_there, voice))
                    }))
                    (question("in", &voice.word("page-goes-in"), &in_it, true, &html! {
                        @if let Some(look) = answer { (units(&look.report, number, voice)) }
                        (groups("page-more-unit", &rest_in, voice))
                    }))
                    button.plain { (voice.word("page-take-over")) }
                }
                (lists(&rest_there, voice))
                (question("wood", &voice.word("page-wood"), &headline, true, &html! {
                    div #wood-told data-live class=(verdict) {
                        @if let Some(told) = &told {
                            @if let Some(words) = &told.frees { p { (words) } }
                            @if let Some(words) = key("answer-left-label") { p { (words) } }
                            @if !told.minds.is_empty() {
                                p { (voice.word("page-to-mind")) }
                                ol { @for words in &told.minds { li { (words) } } }
                            }
                            @for (name, words) in &told.checks { p { b { (name) ": " } (words) } }
                        }
                        @if let Some((_, Err(none))) = &found {
                            ul { @for finding in &none.findings { li { (found_of(finding, voice)) } } }
                        }
                    }
                }))
                (question("set", &voice.word("page-set"), key("answer-cut-label").unwrap_or_default(), false, &html! {
                    div #set-told data-live {
                        @if let Some(told) = &told {
                            @for (label, words) in &told.keys { p { b { (label) } " " (words) } }
                        }
                        p { a.button href={ "/sash/" (number) "/cut" } { (voice.word("page-see-cut")) } }
                        p { (voice.word("page-workshop-sheet")) }
                    }
                }))
                (question("away", &voice.word("page-away"), &voice.word("page-away-what"), false, &html! {
                    p { a.button href="/away" { (voice.word("page-make")) } }
                }))
                form method="post" action="/take-out" {
                    input type="hidden" name="part" value={ "sash[" (number) "]" };
                    button.plain { (voice.word("page-take-sash-out")) }
                }
            }
            div.pictures #pictures data-live tabindex="0" role="region" aria-label=(voice.word("page-sash-drawn")) {
                @if let (Some(look), Some((sash, _))) = (answer, &found) {
                    (pictures(&look.pictures, sash, (number, bars), voice))
                    @if look.report.warmth.is_some() { (warmth(number, draft.version(), voice)) }
                }
            }
        }
    };
    Some(page(&id, draft.version(), &body, voice))
}

/// The workshop, and what holds for every sash.
pub(super) fn workshop(draft: &Draft) -> String {
    let voice = voice(draft);
    let all = fields::shared(draft, voice);
    let seen = all.iter().flat_map(|group| &group.fields).map(|field| field.key.clone());
    let seen: Vec<String> = seen.collect();
    let body = html! {
        nav { a href="/" { (voice.word("page-house")) } }
        main {
            h1 { (voice.word("page-workshop")) }
            p { (voice.word("page-workshop-how")) }
            (state(draft, voice))
            (elsewhere(draft, None, &seen, voice))
            form #measures method="post" action="/set" {
                (version(draft))
                @for group in &all { details.more open[is_wrong(group)] { (in_group(group, voice)) } }
                button.plain { (voice.word("page-take-over")) }
            }
        }
    };
    page(&voice.word("page-workshop"), draft.version(), &body, voice)
}

/// A question with its answer in its heading.
fn question(name: &str, words: &str, answer: &str, open: bool, body: &Markup) -> Markup {
    html! {
        details.question id=(name) open[open] {
            summary { h2 { (words) } span id={ (name) "-answer" } data-live aria-live="polite" { (answer) } }
            (body)
        }
    }
}

/// `540 x 900 mm, 45 mm thick, 2 bars`.
fn there(sash: &survey::Sash, voice: Voice) -> String {
    let [width, height] = [sash.sight.width, sash.sight.height].map(figure);
    let (thick, bars) = (figure(sash.members.left.thickness), sash.bars.len());
    let bars = if bars == 0 { voice.word("page-no-bars") } else { tell!(voice, "page-bars", bars) };
    tell!(voice, "page-sash-is", width, height, thick, bars)
}

fn goes_in(look: &Look, voice: Voice) -> String {
    look.report.units.first().map_or_else(String::new, |unit| {
        let thick = figure(unit.thickness);
        format!("{}, {thick} mm ({})", unit.build_up, voice.named(&unit.make))
    })
}

/// Every unit that was tried, thinnest first, each make-up once: what the sash comes to with it, or what stops it.
fn units(report: &SashReport, sash: usize, voice: Voice) -> Markup {
    let mut all: Vec<_> = report.choice.candidates.iter().collect();
    all.sort_by(|a, b| a.thickness.total_cmp(&b.thickness).then(b.surveyed.cmp(&a.surveyed)));
    let mut seen: Vec<&str> = Vec::new();
    all.retain(|one| {
        let fresh = !seen.contains(&one.build_up.as_str());
        seen.push(&one.build_up);
        fresh
    });
    let own = all.iter().position(|one| one.surveyed).unwrap_or(0);
    let key = format!("sash[{sash}].unit.build_up");
    html! {
        label for="slider" { (voice.word("page-slider")) }
        input #slider type="range" min="0" max=(all.len().saturating_sub(1)) value=(own) data-chooses="units";
        details.more {
            summary { (voice.word("page-every-unit")) }
            div.wide { table #units data-live {
                thead { tr {
                    th { (voice.word("page-unit")) } th { "mm" } th { (voice.word("sash-fits")) } th { (voice.word("options-u")) } th { "kg" } th { (voice.word("page-why-not")) }
                } }
                tbody {
                    @for one in &all {
                        tr class=(one.verdict) {
                            td { label {
                                input type="radio" name=(key) value=(one.build_up) checked[one.surveyed];
                                (one.build_up)
                            } }
                            td { (voice.cell(&["mm"], &figure(one.thickness))) }
                            td { (voice.word(match one.verdict {
                                Verdict::Clear => "page-yes",
                                Verdict::Caution => "page-with-care",
                                Verdict::Stop => "page-no",
                            })) }
                            td { @if let Some(u) = one.whole_u { (format!("{u:.2}")) } }
                            td { @if let Some(kg) = one.weight { (format!("{kg:.1}")) } }
                            td { @if let Some(first) = one.findings.first() { (found_of(first, voice)) } }
                        }
                    }
                }
            } }
        }
    }
}

fn groups(key: &str, groups: &[Group], voice: Voice) -> Markup {
    html! {
        details.more open[groups.iter().any(is_wrong)] {
            summary { (voice.word(key)) }
            @for group in groups.iter().filter(|group| !group.fields.is_empty()) {
                details open[is_wrong(group) || group.list.is_some()] { (in_group(group, voice)) }
            }
        }
    }
}

fn is_wrong(group: &Group) -> bool {
    group.fields.iter().any(|field| !field.mistakes.is_empty())
}

/// The name of a group, and whether anything of it is written; then its fields.
fn in_group(group: &Group, voice: Voice) -> Markup {
    let said = group.fields.iter().any(|field| !field.written.is_empty());
    html! {
        summary { (group.name) @if said { " " (voice.word("page-told")) } }
        @for field in &group.fields { (shown(field, std::slice::from_ref(&field.key))) }
    }
}

/// Bars, screws and the like: one more, or one less.
fn lists(groups: &[Group], voice: Voice) -> Markup {
    html! {
        details.more {
            summary { (voice.word("page-lists")) }
            @for group in groups {
                @if let Some(list) = &group.list {
                    p { (group.name) ": " (group.parts.len()) }
                    form method="post" action="/add" {
                        input type="hidden" name="list" value=(list);
                        button { (tell!(voice, "page-add-to", list = group.name)) }
                    }
                    @for (index, part) in group.parts.iter().enumerate() {
                        form method="post" action="/take-out" {
                            input type="hidden" name="part" value=(part);
                            button.plain { (tell!(voice, "page-take-out", number = index + 1, list = group.name)) }
                        }
                    }
                }
            }
        }
    }
}

/// A field; what is typed goes to all of `keys`.
fn shown(field: &Field, keys: &[String]) -> Markup {
    let Field { key, label, about, written, usual, choices, in_mm, mistakes, .. } = field;
    let (hint, wrong) = (format!("about-{key}"), format!("wrong-{key}"));
    let described = format!("mm-{key} {hint} {wrong}");
    let others = keys.iter().skip(1).cloned().collect::<Vec<_>>().join(" ");
    let others = (!others.is_empty()).then_some(others);
    html! {
        div.field {
            label for=(key) { (label) }
            @if choices.is_empty() {
                input id=(key) name=(key) value=(written) placeholder=(usual) autocomplete="off" autocapitalize="off"
                    spellcheck="false" aria-describedby=(described) data-also=[others];
            } @else {
                select id=(key) name=(key) aria-describedby=(described) {
                    option value="" selected[written.is_empty()] { (usual) }
                    @if !written.is_empty() && !choices.contains(written) {
                        option value=(written) selected { (written) }
                    }
                    @for choice in *choices { option value=(choice) selected[choice == written] { (choice) } }
                }
            }
            output id=(format!("mm-{key}")) data-live { @if let Some(mm) = in_mm { "= " (format!("{mm:.2}")) " mm" } }
            small id=(hint) { (about) }
            output.mistake id=(wrong) data-live {
                @for words in mistakes { (words) " " }
            }
        }
    }
}

/// The elevation, and the sections under it; what is measured laid over them.
fn pictures(
    all: &[Picture],
    sash: &survey::Sash,
    (number, bars): (usize, usize),
    voice: Voice,
) -> Markup {
    let is_elevation = |picture: &&Picture| picture.name.starts_with("elevation");
    let (elevations, sections): (Vec<_>, Vec<_>) = all.iter().partition(is_elevation);
    let of_stile = sections.iter().position(|picture| picture.name.contains("stile"));
    html! {
        @for picture in elevations {
            figure.elevation {
                (rules::laid(picture, &rules::elevation(sash, number, bars, voice)))
                figcaption { (voice.word("page-seen")) }
            }
        }
        @for (index, picture) in sections.into_iter().enumerate() {
            figure.section {
                @if Some(index) == of_stile { (rules::laid(picture, &rules::section(sash, number))) }
                @else { (PreEscaped(&picture.svg)) }
                @let part = picture.name.trim_start_matches("section-").trim_end_matches(".svg").replace('-', " ");
                figcaption { (tell!(voice, "page-before-after", part = voice.named(&part))) }
            }
        }
    }
}

/// Lines of even warmth, reckoned only where they are folded open: a closed picture is not asked for.
fn warmth(number: usize, version: u64, voice: Voice) -> Markup {
    let source = format!("/sash/{number}/warmth.svg?version={version}");
    html! {
        details.more {
            summary { (voice.word("page-warmth")) }
            figure.section {
                img src=(source) loading="lazy" alt=(voice.word("page-warmth-seen"));
            }
        }
    }
}
