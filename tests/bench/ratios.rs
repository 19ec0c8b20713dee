//! What takes how many times as long as what, of one run.

use crate::kinds::{
    bars, check, elliptical, example, make, numbers, on_site, plain, read, traced, worked, write,
};
use crate::{choice, pens};
use fillister::job::prove_work;
use fillister::survey::House;
use std::hint::black_box;
use std::time::{Duration, Instant};

/// Runs of which the middle one counts, in so much time at most once the first is through.
const RUNS: usize = 21;
const MOST: Duration = Duration::from_secs(2);

/// The median time of a run.
fn median<T>(run: impl Fn() -> T) -> f64 {
    let (begun, mut took) = (Instant::now(), Vec::new());
    while took.len() < RUNS && (took.is_empty() || begun.elapsed() < MOST) {
        let start = Instant::now();
        black_box(run());
        took.push(start.elapsed());
    }
    took.sort();
    took[took.len() / 2].as_secs_f64()
}

/// Prints a line: how many times as long as `other` the one may take, and how many times it takes.
fn line(name: &str, most: f64, one: f64, other: f64) {
    let ratio = one / other;
    let mark = if ratio > most { "  too slow" } else { "" };
    let (one, other) = (one * 1e3, other * 1e3);
    println!("{name:<50} {most:>6.2} {ratio:>8.2} {one:>10.3} {other:>10.3}{mark}");
}

pub(crate) fn print() {
    println!("\n{:<50} {:>6} {:>8} {:>10} {:>10}", "", "most", "ratio", "ms", "of ms");
    let checked = |house: &House| median(|| check(house));
    let made = |house: &House| median(|| make(house));

    let check_plain = checked(&plain());
    // Some thirty arcs against four lines. The start of the process, the same for both, is not in these times: of two
    // whole processes the one takes about three times as long.
    line("check, elliptical head : plain", 4.5, checked(&elliptical()), check_plain);
    let bars = bars();
    let check_bars = checked(&bars);
    line("check, bars : plain", 3.0, check_bars, check_plain);
    line("check, on site : plain", 3.0, checked(&on_site()), check_plain);
    let check_all = checked(example());
    line("check, ten sashes : plain", 15.0, check_all, check_plain);
    let [few, more, most] = [16, 128, 200].map(|edges| checked(&traced(edges)));
    line("check, traced in 128 edges : in 16", 128.0 / 16.0, more, few);
    line("check, traced in 200 edges : in 16", 200.0 / 16.0, most, few);
    let [one, many] = [1, 50].map(|count| checked(&choice::house(count)));
    line("check, 50 candidates : 1", 10.0, many, one);

    // What `make` adds is drawn, written and proven: as `check` gets quicker, the ratio grows.
    let make_all = made(example());
    line("make, ten sashes : check", 14.0, make_all, check_all);
    let make_bars = made(&bars);
    line("make, bars : check", 14.0, make_bars, check_bars);
    let work = worked(&bars);
    // Alone it has one core, as part of `make` it shares two with the sheets.
    line("prove, bars : make", 0.65, median(|| prove_work(&work, &bars.workshop)), make_bars);
    pens::drawn();
    line("DXF pen, ten sashes : make", 0.3, median(pens::dxf_pen), make_all);
    line("SVG pen, ten sashes : make", 0.3, median(pens::svg_pen), make_all);
    line("PDF pen, ten sashes : make", 0.3, median(pens::pdf_pen), make_all);
    line("read a survey of ten sashes : check", 0.1, median(read), check_all);

    let numbers = numbers();
    let length = |value: &f64| format!("{:.4}", black_box(*value)).len();
    let formatted = || numbers.iter().map(length).sum::<usize>();
    line("write 1000 numbers : by format!", 1.0, median(|| write(&numbers)), median(formatted));
}
