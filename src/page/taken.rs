//! What is made of a house, to take away: every file.

use super::view::page;
use crate::job::folder::Files;
use maud::html;

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
