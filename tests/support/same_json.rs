//! Compares two JSON values but for rounding.

use serde_json::Value;

/// The first place where `a` and `b` differ: numbers by more than `tolerance`, in absolute or in
/// relative measure, whichever is wider; numbers inside texts, which are rounded, by more than one of
/// their last digit.
pub(crate) fn same_json(a: &Value, b: &Value, tolerance: f64, path: &str) -> Result<(), String> {
    let differ = || Err(format!("{path}: {a} against {b}"));
    match (a, b) {
        (Value::Number(x), Value::Number(y)) => {
            let (x, y) = (x.as_f64().unwrap(), y.as_f64().unwrap());
            if (x - y).abs() <= tolerance * x.abs().max(1.0) { Ok(()) } else { differ() }
        }
        (Value::String(x), Value::String(y)) => {
            if same_text(x, y) {
                Ok(())
            } else {
                differ()
            }
        }
        (Value::Array(x), Value::Array(y)) => {
            if x.len() != y.len() {
                return Err(format!("{path}: {} items against {}", x.len(), y.len()));
            }
            let mut pairs = x.iter().zip(y).enumerate();
            pairs.try_for_each(|(i, (x, y))| same_json(x, y, tolerance, &format!("{path}[{i}]")))
        }
        (Value::Object(x), Value::Object(y)) => {
            if x.keys().ne(y.keys()) {
                return differ();
            }
            let mut pairs = x.iter().zip(y.values());
            pairs.try_for_each(|((key, x), y)| same_json(x, y, tolerance, &format!("{path}.{key}")))
        }
        _ if a == b => Ok(()),
        _ => differ(),
    }
}

fn same_text(a: &str, b: &str) -> bool {
    let parted = |c: char| !(c.is_alphanumeric() || c == '.');
    let (x, y): (Vec<&str>, Vec<&str>) = (a.split(parted).collect(), b.split(parted).collect());
    let number = |word: &str| word.trim_end_matches('.').parse::<f64>();
    x.len() == y.len()
        && x.iter().zip(&y).all(|(x, y)| match (number(x), number(y)) {
            (Ok(p), Ok(q)) => {
                let whole = !x.trim_end_matches('.').contains('.');
                (p - q).abs() <= if whole { 1.0 } else { 0.1 } + 1e-9
            }
            _ => x == y,
        })
}
