//! The house at a glance: one page for a browser that needs nothing beside it but the files it links to.
//!
//! Promised: self-contained, no script, reads on a phone and prints; every text from the survey is
//! escaped. Not promised: that it says everything; the sheets do.

use crate::finding::Verdict;
use crate::number::number;
use crate::report::{Report, SashReport};
use std::fmt::Write;
use std::path::Path;

/// The pictures of one sash, as SVG documents, and the files to link to.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Card {
    /// The sash from the glazing face.
    pub elevation: String,
    /// One section.
    pub section: String,
    /// Paths of its files from the page, in order.
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
figure svg { display: block; max-width: 100%; max-height: 28rem; height: auto; }
.section svg { min-width: 34rem; max-width: none; width: 100%; max-height: none; }
.pictures { display: grid; gap: 1rem; grid-template-columns: 1fr; align-items: start; }
@media (min-width: 60rem) { .pictures { grid-template-columns: 2fr 3fr; } }
.files a { display: inline-block; padding: .35rem 0; margin-right: .9rem; overflow-wrap: anywhere; }
li { overflow-wrap: anywhere; }
@media print {
  a { color: inherit; text-decoration: none; } body { padding: 0; font-size: 10pt; }
  article { padding: .5rem; margin: .4rem 0; } p, ul, figure { margin-top: .3rem; margin-bottom: .3rem; }
  .pictures { grid-template-columns: 2fr 3fr; } figure svg { max-height: 62mm; }
  .section svg { min-width: 0; } .files { display: none; } ul { break-inside: avoid; }
}
";

/// The page; one card a sash in the order of the report.
pub fn html(report: &Report, cards: &[Card]) -> String {
    let house = escaped(&report.house);
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{house}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<h1>{house}</h1>\n"
    );
    links(
        &mut out,
        "The house",
        &["summary.txt", "glass-order.pdf", "glass-order.csv", "cutting-list.csv", "report.json"]
            .map(str::to_owned),
    );
    for (sash, card) in report.sashes.iter().zip(cards) {
        article(&mut out, sash, card);
    }
    for sash in &report.cannot_be_cut {
        let (id, kind) = (escaped(&sash.id), escaped(sash.kind));
        push(&mut out, format_args!("<article id=\"{id}\">\n<h2>{id}</h2>\n<p>{kind}</p>\n"));
        out.push_str("<p class=\"verdict stop\">No: no cut could be worked out.</p>\n<ul>\n");
        for finding in &sash.findings {
            let [place, advice] = [&finding.place, &finding.advice].map(|text| escaped(text));
            let (measured, limit) = (finding.measured, finding.limit);
            push(
                &mut out,
                format_args!("<li>{place}: {measured} against {limit}. {advice}</li>\n"),
            );
        }
        out.push_str("</ul>\n</article>\n");
    }
    out.push_str("<h2>Cautions</h2>\n<ul>\n");
    for caution in &report.cautions {
        push(&mut out, format_args!("<li>{}</li>\n", escaped(caution)));
    }
    out.push_str("</ul>\n</body>\n</html>\n");
    out
}

fn article(out: &mut String, sash: &SashReport, card: &Card) {
    let (class, words) = match sash.verdict {
        Verdict::Clear => ("clear", "Yes: the sash can take the unit."),
        Verdict::Caution => ("caution", "Yes, with care: read what follows before you cut."),
        Verdict::Stop => ("stop", "No: do not cut this sash for this unit."),
    };
    push(
        out,
        format_args!(
            "<article id=\"{0}\">\n<h2>{0}</h2>\n<p>{1}</p>\n<p class=\"verdict {class}\">{words}</p>\n",
            escaped(&sash.id),
            escaped(sash.kind),
        ),
    );
    out.push_str("<div class=\"pictures\">\n");
    for (class, picture, words) in [
        (
            "elevation",
            &card.elevation,
            "seen from the glazing face; numbers are those of the beads",
        ),
        (
            "section",
            &card.section,
            "a section before and after; it moves sideways on a narrow screen",
        ),
    ] {
        if !picture.is_empty() {
            push(
                out,
                format_args!(
                    "<figure class=\"{class}\">{picture}<figcaption>{words}</figcaption></figure>\n"
                ),
            );
        }
    }
    out.push_str("</div>\n<ul>\n");
    push(out, format_args!("<li>new rebate {} mm deep</li>\n", number(sash.rebate_depth, 1)));
    for unit in &sash.units {
        let verb = if sash.verdict == Verdict::Stop { "do not order yet" } else { "order" };
        push(
            out,
            format_args!(
                "<li>{}: {verb} {} × {} mm{}, {}</li>\n",
                escaped(&unit.light),
                number(unit.order.width, 1),
                number(unit.order.height, 1),
                unit.shape.as_ref().map_or_else(String::new, |s| format!(", {}, over all", s.name)),
                escaped(&unit.build_up),
            ),
        );
    }
    let mut told: Vec<String> = Vec::new();
    for finding in sash.findings.iter().filter(|finding| finding.verdict != Verdict::Clear) {
        let words = format!("{}: {}", finding.verdict, finding.advice);
        if !told.contains(&words) {
            push(out, format_args!("<li>{} ({})</li>\n", escaped(&words), escaped(&finding.place)));
            told.push(words);
        }
    }
    out.push_str("</ul>\n");
    let (programs, others): (Vec<String>, Vec<String>) =
        card.files.iter().cloned().partition(|file| file.contains("/cuts/"));
    let (sheets, drawings): (Vec<String>, Vec<String>) =
        others.into_iter().partition(|file| is_pdf(file));
    links(out, "Sheets", &sheets);
    links(out, "Programs", &programs);
    links(out, "Drawings and proof", &drawings);
    out.push_str("</article>\n");
}

fn is_pdf(file: &str) -> bool {
    Path::new(file).extension().is_some_and(|ending| ending == "pdf")
}

/// Links to files under `what` they are; nothing where there are none.
fn links(out: &mut String, what: &str, files: &[String]) {
    if files.is_empty() {
        return;
    }
    let links: Vec<String> = files
        .iter()
        .map(|file| {
            let name = file.rsplit_once('/').map_or(file.as_str(), |(_, name)| name);
            format!("<a href=\"{}\">{}</a>", escaped(file), escaped(name))
        })
        .collect();
    push(out, format_args!("<p class=\"files\">{what}: {}</p>\n", links.join(" ")));
}

/// Text that cannot be taken for a tag or end a value in quotes.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            other => out.push(other),
        }
    }
    out
}

/// Writing into a `String` cannot fail.
fn push(out: &mut String, text: std::fmt::Arguments<'_>) {
    let written = out.write_fmt(text);
    debug_assert!(written.is_ok());
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_break_out_of_the_page() {
        let house = "<script>alert(\"1\")</script> & Co".to_owned();
        let report = Report {
            fillister: "0",
            house,
            verdict: Verdict::Clear,
            sashes: Vec::new(),
            cannot_be_cut: Vec::new(),
            assumed: Vec::new(),
            cautions: vec!["a < b".into()],
        };
        let page = html(&report, &[]);
        assert!(!page.contains("<script") && page.contains("&lt;script&gt;alert(&quot;1&quot;)"));
        assert!(page.contains("<li>a &lt; b</li>"));
        // Nothing is fetched from anywhere.
        assert!(!page.contains("http"));
    }
}
