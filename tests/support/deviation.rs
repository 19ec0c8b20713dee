//! How far our figures lie from those of a source: measured, told, and held within a bound.

/// The greatest deviations of one quantity from one source.
#[derive(Debug)]
pub(crate) struct Deviation {
    what: String,
    cases: usize,
    /// Of any case, in the unit of the quantity, and which case it was.
    absolute: (f64, String),
    /// Of any case whose figure is not nought, as a share of the source's figure.
    relative: (f64, String),
}

/// Compares rows of place, our figure, the source's figure. `--nocapture` shows the outcome.
pub(crate) fn deviation(
    what: impl Into<String>,
    rows: impl IntoIterator<Item = (String, f64, f64)>,
) -> Deviation {
    let none = || (0.0, String::from("none"));
    let mut found = Deviation { what: what.into(), cases: 0, absolute: none(), relative: none() };
    for (place, ours, theirs) in rows {
        let off = (ours - theirs).abs();
        assert!(off.is_finite(), "{}, {place}: {ours} against {theirs}", found.what);
        found.cases += 1;
        if off > found.absolute.0 {
            found.absolute = (off, place.clone());
        }
        if theirs != 0.0 && off / theirs.abs() > found.relative.0 {
            found.relative = (off / theirs.abs(), place);
        }
    }
    println!(
        "{}: {} cases; at most {:.3e} ({}), {:.4} % ({})",
        found.what,
        found.cases,
        found.absolute.0,
        found.absolute.1,
        100.0 * found.relative.0,
        found.relative.1
    );
    found
}

impl Deviation {
    /// As many cases as were meant.
    pub(crate) fn of(self, cases: usize) -> Self {
        assert_eq!(self.cases, cases, "{}", self.what);
        self
    }

    /// In the unit of the quantity.
    pub(crate) fn within(self, bound: f64) -> Self {
        assert!(self.absolute.0 <= bound, "{self:?}: over {bound}");
        self
    }

    /// As a share of the source's figure.
    pub(crate) fn within_share(self, bound: f64) -> Self {
        assert!(self.relative.0 <= bound, "{self:?}: over {bound}");
        self
    }
}
