//! What is made of a sash, to look at and to take away: its programs, and every file.

use super::view::page;
use crate::job::folder::Files;
use crate::prove::Proof;
use crate::sheets::summary;
use maud::{Markup, PreEscaped, html};
use std::collections::BTreeMap;

/// Where the cutter goes by the programs that were made, and what is found of one that was handed in.
pub(super) fn cut(
    number: usize,
    id: &str,
    made: Option<&Files>,
    handed_in: Option<(&str, &Proof)>,
) -> String {
    let picture = made.and_then(|files| files.get(&format!("{id}/path.svg")));
    let (text, proof) = handed_in.unzip();
    let body = html! {
        nav { a href={ "/sash/" (number) } { (id) } }
        main {
            h1 { "The cut: " (id) }
            @if let Some(proof) = proof {
                h2 { "What was found" }
                pre.found tabindex="0" { (summary::proof(proof, summary::WIDTH)) }
                (listing(text.unwrap_or_default(), proof))
            }
            @match (picture, proof) {
                (Some(picture), _) => figure {
                    (PreEscaped(String::from_utf8_lossy(picture).into_owned()))
                    figcaption { "Every program as it was read back, stage by stage" }
                },
                (None, None) => p { "There are no programs yet: the sash is not answered with a yes, or something is missing." },
                (None, Some(_)) => {}
            }
            h2 { "Prove a program" }
            p { "Ours or another's, as it is or changed by hand: it is held against this sash, move by move." }
            form method="post" action={ "/sash/" (number) "/cut" } {
                label for="program" { "Put the text of the program here, or drop its file anywhere on this page" }
                textarea id="program" name="program" rows="8" spellcheck="false" { (text.unwrap_or_default()) }
                button { "Prove it" }
            }
        }
    };
    page(&format!("The cut: {id}"), 0, &body)
}

/// The lines of a program at which something was found, each with those around it.
fn listing(text: &str, proof: &Proof) -> Markup {
    let wrong: BTreeMap<usize, String> = proof
        .faults
        .iter()
        .chain(&proof.cautions)
        .filter_map(|fault| Some((fault.line?, fault.finding.advice.clone())))
        .collect();
    let near = |line: &usize| wrong.keys().any(|wrong| wrong.abs_diff(*line) <= AROUND);
    let lines = text.lines().enumerate().map(|(index, line)| (index + 1, line));
    let lines: Vec<_> = lines.filter(|(number, _)| near(number)).collect();
    html! {
        @if !lines.is_empty() {
            h2 { "Where" }
            ol.lines {
                @for (number, line) in lines {
                    li value=(number) {
                        code { (line) }
                        @if let Some(words) = wrong.get(&number) { p.mistake { (words) } }
                    }
                }
            }
        }
    }
}

/// Lines of a program shown before and after one at which something was found.
const AROUND: usize = 2;

/// Everything that was made, with a word on what it is for.
pub(super) fn away(house: &str, files: &Files, version: u64) -> String {
    let body = html! {
        nav { a href="/" { "The house" } }
        main {
            h1 { "What do I take away?" }
            p { a.button href="/away.zip" download { "The whole folder in one file" } }
            p { "Print sheets at 100 %, not fitted to the page, and check the square of 100 mm with a rule." }
            ul {
                @for name in files.keys() {
                    li { a href={ "/away/" (name) } { (name) } " " (what_for(name)) }
                }
            }
        }
    };
    page(house, version, &body)
}

/// What a file is for, by its name.
fn what_for(name: &str) -> &'static str {
    let last = name.rsplit('/').next().unwrap_or(name);
    match last {
        "glass-order.pdf" | "glass-order.csv" => "the order, for the maker of the glass",
        "cutting-list.csv" => "beads, blocks and boards to cut",
        "summary.txt" | "index.html" => "the house at a glance",
        "for-the-owner.pdf" => "one page for the owner, before and after",
        "options.pdf" => "the units that fit, side by side",
        "workshop.pdf" => "for the bench: widths, depths, guides, order of work",
        "machine.pdf" => "for the machine: holding down, zero, what to look for",
        "template.pdf" => "the template at true size, to trace",
        "template.dxf" | "sash.dxf" | "setups.dxf" => {
            "outlines, for a drawing or a template cut elsewhere"
        }
        "proof.json" | "proof.svg" => "what was proven, and the wood that is left",
        "path.svg" => "where the cutter goes",
        "warmth.svg" => "how warm the coldest part is",
        "report.json" => "every figure",
        _ if name.contains("/cuts/") => "a program for the machine, proven",
        _ if last.starts_with("section-") => "a section before and after",
        _ if last.starts_with("elevation") => "the sash from the glazing face",
        _ => "",
    }
}
