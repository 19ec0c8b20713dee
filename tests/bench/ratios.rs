//! What takes how many times as long as what, of one run.

use crate::kinds::{
    bars, check, elliptical, example, make, numbers, on_site, plain, read, traced, worked, write,
};
use crate::{choice, pens};
use fillister::job::prove_work;
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

/// Prints a line: how many times as long as `other` it may take, and how many times it takes.
fn line<A, B>(name: &str, most: f64, one: impl Fn() -> A, other: impl Fn() -> B) {
    let (one, other) = (median(one), median(other));
    let ratio = one / other;
    let mark = if ratio > most { "  too slow" } else { "" };
    let (one, other) = (one * 1e3, other * 1e3);
    println!("{name:<50} {most:>6.2} {ratio:>8.2} {one:>10.3} {other:>10.3}{mark}");
}

pub(crate) fn print() {
    println!("\n{:<50} {:>6} {:>8} {:>10} {:>10}", "", "most", "ratio", "ms", "of ms");
    let houses = [plain(), elliptical(), bars(), on_site()];
    let [plain, elliptical, bars, on_site] = &houses;
    let all = example();
    let checked = |house| move || check(house);
    let made = |house| move || make(house);

    line("check, elliptical head : plain", 3.0, checked(elliptical), checked(plain));
    line("check, bars : plain", 3.0, checked(bars), checked(plain));
    line("check, on site : plain", 1.0, checked(on_site), checked(plain));
    line("check, ten sashes : plain", 15.0, checked(all), checked(plain));
    let traces = [16, 128, 200].map(traced);
    for (house, edges) in traces[1..].iter().zip([128.0, 200.0]) {
        let name = format!("check, traced in {edges} edges : in 16");
        line(&name, edges / 16.0, checked(house), checked(&traces[0]));
    }
    let candidates = [50, 1].map(choice::house);
    let name = "check, 50 candidates : 1";
    line(name, 10.0, checked(&candidates[0]), checked(&candidates[1]));

    line("make, ten sashes : check", 8.0, made(all), checked(all));
    line("make, bars : check", 8.0, made(bars), checked(bars));
    let work = worked(bars);
    let proven = || prove_work(&work, &bars.workshop);
    line("prove, bars : make", 0.3, proven, made(bars));
    let pens =
        [("DXF", pens::dxf_pen as fn() -> usize), ("SVG", pens::svg_pen), ("PDF", pens::pdf_pen)];
    for (name, pen) in pens {
        pen();
        let name = format!("{name} pen, ten sashes : make");
        line(&name, 0.3, pen, made(all));
    }
    line("read a survey of ten sashes : check", 0.1, read, checked(all));

    let numbers = numbers();
    let formatted = || {
        let length = |value: &f64| format!("{:.4}", black_box(*value)).len();
        numbers.iter().map(length).sum::<usize>()
    };
    let name = "write 1000 numbers : by format!";
    line(name, 1.0, || write(&numbers), formatted);
}
