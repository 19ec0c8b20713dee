//! The house at a glance: one page for a browser that needs nothing but the files beside it.
//!
//! Promised: nothing from elsewhere, no script, reads on a phone and prints; every text from the survey is
//! escaped. Not promised: that it says everything; the sheets do.

use super::kit::Voice;
use super::summary::house::{self, legend, sentence};
use super::summary::sash::minds;
use super::told::Told;
use crate::report::{CannotBeCut, HouseReport, SashReport};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use std::path::Path;

/// The pictures of one sash and the files to link to, all by their paths from the page.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Card {
    /// The sash from the glazing face.
    pub elevation: Option<String>,
    /// One section.
    pub section: Option<String>,
    /// Its files, in order.
    pub files: Vec<String>,
}

/// Plain colours for screen and paper; nothing is told by colour alone.
const STYLE: &str = "
:root { color-scheme: light; }
body { font: 1rem/1.5 sans-serif; margin: 0 auto; max-width: 70rem; padding: 1rem; color: #111; background: #fff; }
h1 { font-size: 1.5rem; } h2 { font-size: 1.2rem; margin: 0; }
article { border: 1px solid #888; border-radius: .4rem; padding: 1rem; margin: 1rem 0; break-inside: avoid; }
.verdict { font-weight: bold; border-left: .5rem solid; padding-left: .6rem; }
.clear { border-color: #00783c; } .caution { border-color: #b06a00; } .stop { border-color: #c41e1e; }
figure { margin: .5rem 0; overflow-x: auto; } figcaption { color: #444; }
figure img { display: block; max-width: 100%; max-height: 28rem; height: auto; }
.section img { min-width: 34rem; max-width: none; width: 100%; max-height: none; }
.pictures { display: grid; gap: 1rem; grid-template-columns: 1fr; align-items: start; }
@media (min-width: 60rem) { .pictures { grid-template-columns: 2fr 3fr; } }
.files a { display: inline-block; padding: .35rem 0; margin-right: .9rem; overflow-wrap: anywhere; }
li { overflow-wrap: anywhere; } .mind { list-style-type: square; font-weight: bold; }
.house { overflow-x: auto; } table { border-collapse: collapse; }
th, td { text-align: left; padding: .2rem .6rem; border-bottom: 1px solid #bbb; white-space: nowrap; }
@media print {
  a { color: inherit; text-decoration: none; } body { padding: 0; font-size: 10pt; }
  article { padding: .5rem; margin: .4rem 0; } p, ul, figure { margin-top: .3rem; margin-bottom: .3rem; }
  .pictures { grid-template-columns: 2fr 3fr; } figure img { max-height: 62mm; }
  .section img { min-width: 0; } .files { display: none; } ul { break-inside: avoid; }
}
";

/// The page up to its sashes: the answer, a table of them, and the files of the house.
pub fn head(report: &HouseReport, files: &[&str], voice: Voice) -> String {
    let page = html! {
        (DOCTYPE) "\n"
        (PreEscaped(format!("<html lang=\"{}\">\n", voice.lang())))
        head { "\n"
            meta charset="utf-8"; "\n"
            meta name="viewport" content="width=device-width, initial-scale=1"; "\n"
            title { (report.house) } "\n"
            style { (PreEscaped(STYLE)) } "\n"
        } "\n"
        (PreEscaped("<body>\n"))
        h1 { (report.house) } "\n"
        p.verdict { (sentence(report, voice)) } "\n"
        (table(report, voice))
        (links(&voice.word("index-house"), files))
    };
    page.into_string()
}

/// A sash on the page.
pub fn card(sash: &SashReport, card: &Card, voice: Voice) -> String {
    article(sash, card, voice).into_string()
}

/// A sash for which no cut could be worked out.
pub fn card_of_none(sash: &CannotBeCut, voice: Voice) -> String {
    let card = html! {
        article id=(sash.id) { "\n"
            h2 { (sash.id) } "\n"
            p { (voice.named(sash.kind)) } "\n"
            p.verdict.stop { (voice.word("index-not-worked")) } "\n"
            ul { "\n"
                @for (_, words) in minds(&sash.findings, voice) { li { (voice.said(&words)) } "\n" }
            } "\n"
        } "\n"
    };
    card.into_string()
}

/// The page after its sashes.
pub fn foot(report: &HouseReport, voice: Voice) -> String {
    let page = html! {
        h2 { (voice.word("workshop-cautions")) } "\n"
        ul { "\n"
            @for caution in &report.cautions { li { (voice.said(&caution.told)) } "\n" }
        } "\n"
        (PreEscaped("</body>\n</html>\n"))
    };
    page.into_string()
}

fn article(sash: &SashReport, card: &Card, voice: Voice) -> Markup {
    let class = sash.verdict.to_string();
    let told = Told::of(sash, voice);
    let pictures = [
        (
            "elevation",
            &card.elevation,
            if sash.glazing == "putty" {
                voice.word("seen-from-face")
            } else {
                voice.word("index-elevation")
            },
        ),
        ("section", &card.section, voice.word("index-section")),
    ];
    let files = |wanted: fn(&str) -> bool| -> Vec<&str> {
        card.files.iter().map(String::as_str).filter(|file| wanted(file)).collect()
    };
    html! {
        article id=(sash.id) { "\n"
            h2 { (sash.id) } "\n"
            p { (voice.named(sash.kind)) } "\n"
            p class={ "verdict " (class) } { (told.headline) } "\n"
            @if let Some(words) = &told.frees { p { (words) } "\n" }
            div.pictures { "\n"
                @for (class, picture, words) in pictures {
                    @if let Some(picture) = picture {
                        figure class=(class) {
                            img src=(picture) alt={ (sash.id) ", " (words) } loading="lazy";
                            figcaption { (words) }
                        } "\n"
                    }
                }
            } "\n"
            ul { "\n"
                @for (label, words) in &told.keys { li { b { (label) } " " (words) } "\n" }
                @for (name, words) in &told.checks { li { (name) " " (words) } "\n" }
                @for words in &told.minds { li.mind { (words) } "\n" }
            } "\n"
            (links(&voice.word("index-sheets"), &files(|file| !is_program(file) && is_pdf(file))))
            (links(&voice.word("index-programs"), &files(is_program)))
            (links(&voice.word("index-drawings"), &files(|file| !is_program(file) && !is_pdf(file))))
        } "\n"
    }
}

/// The house at a glance: a row a sash that leads to its card; nothing for a single one.
fn table(report: &HouseReport, voice: Voice) -> Markup {
    let rows = house::rows(report, voice);
    let mut rows = rows.iter();
    let head = rows.next();
    html! {
        @if rows.len() > 1 {
            div.house {
                table { "\n"
                    tr { @for name in head.into_iter().flatten() { th { (name) } } } "\n"
                    @for row in rows {
                        tr {
                            @for (column, cell) in row.iter().enumerate() {
                                td { @if column == 0 { a href={ "#" (cell) } { (cell) } } @else { (cell) } }
                            }
                        } "\n"
                    }
                }
            }
            p { (legend(voice)) } "\n"
        }
    }
}

fn is_program(file: &str) -> bool {
    file.contains("/cuts/")
}

fn is_pdf(file: &str) -> bool {
    Path::new(file).extension().is_some_and(|ending| ending == "pdf")
}

/// Links to files under `what` they are; nothing where there are none.
fn links(what: &str, files: &[&str]) -> Markup {
    let name = |file: &str| file.rsplit_once('/').map_or(file, |(_, name)| name).to_owned();
    html! {
        @if !files.is_empty() {
            p.files { (what) ":" @for file in files { " " a href=(file) { (name(file)) } } } "\n"
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Verdict;
    use crate::language::Said;
    use crate::report::OrderTotal;

    #[test]
    fn a_name_cannot_break_out_of_the_page() {
        let house = "<script>alert(\"1\")</script> & Co".to_owned();
        let report = HouseReport {
            fillister: "0",
            house,
            verdict: Verdict::Clear,
            doubts: Vec::new(),
            sashes: Vec::new(),
            order: OrderTotal::default(),
            assumed: Vec::new(),
            cautions: vec![Said { british: "a < b".into(), told: "a < b".into() }],
        };
        let page = head(&report, &[], Voice::plain()) + &foot(&report, Voice::plain());
        assert!(!page.contains("<script") && page.contains("&lt;script&gt;alert(&quot;1&quot;)"));
        assert!(page.contains("<li>a &lt; b</li>"));
        // Nothing is fetched from anywhere.
        assert!(!page.contains("http"));
    }
}
