//! What is made of a house, to take away: every file.

use super::view::page;
use crate::job::folder::Files;
use crate::sheets::kit::Voice;
use maud::html;

/// Everything that was made, with a word on what it is for.
pub(super) fn away(house: &str, files: &Files, version: u64, voice: Voice) -> String {
    let body = html! {
        nav { a href="/" { (voice.word("page-house")) } }
        main {
            h1 { (voice.word("page-away")) }
            p { a.button href="/away.zip" download { (voice.word("page-folder")) } }
            p { (voice.word("page-print")) }
            ul {
                @for name in files.keys() {
                    li { a href={ "/away/" (name) } { (name) } " " (what_for(name).map_or_else(String::new, |key| voice.word(key))) }
                }
            }
        }
    };
    page(house, version, &body, voice)
}

/// The key of what a file is for, by its name.
fn what_for(name: &str) -> Option<&'static str> {
    let last = name.rsplit('/').next().unwrap_or(name);
    Some(match last {
        "cutting-list.csv" => "page-for-list",
        "summary.txt" | "index.html" => "page-for-glance",
        "for-the-owner.pdf" => "page-for-owner",
        "options.pdf" => "page-for-options",
        "workshop.pdf" => "page-for-workshop",
        "machine.pdf" => "page-for-machine",
        "template.pdf" => "page-for-template",
        "template.dxf" | "sash.dxf" | "setups.dxf" => "page-for-outlines",
        "proof.json" | "proof.svg" => "page-for-proof",
        "path.svg" => "page-for-path",
        "warmth.svg" => "page-for-warmth",
        "report.json" => "page-for-report",
        _ if last.starts_with("glass-order") => "page-for-order",
        _ if name.contains("/cuts/") => "page-for-program",
        _ if last.starts_with("section-") => "page-for-section",
        _ if last.starts_with("elevation") => "page-for-elevation",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // A long order has several files.
    #[test]
    fn every_part_of_an_order_is_told_what_it_is_for() {
        for name in ["glass-order.pdf", "glass-order-2.pdf", "glass-order.csv"] {
            assert_eq!(what_for(name), Some("page-for-order"), "{name}");
        }
    }
}
