//! In which order the places of a sash larger than the travel are cut, each by its column and row.

/// A place: its column and row, from the lower left.
pub(super) type At = (usize, usize);

/// Row by row from the lower left, each row on from where the one before ended.
pub(super) fn row_by_row(columns: usize, rows: usize) -> Vec<At> {
    let row = |row: usize| {
        let along = 0..columns;
        let along: Vec<usize> =
            if row.is_multiple_of(2) { along.collect() } else { along.rev().collect() };
        along.into_iter().map(move |column| (column, row))
    };
    (0..rows).flat_map(row).collect()
}

/// The same places with those last that are; the others as they were or, where one would be cut before its neighbours on
/// either side, row by row from that corner where none is, if there is one: its window would be made shorter at both ends.
pub(super) fn with_last(places: Vec<At>, last: impl Fn(At) -> bool) -> Vec<At> {
    let (last, first): (Vec<At>, Vec<At>) = places.into_iter().partition(|place| last(*place));
    let from = |left: bool, low: bool| {
        let mut first = first.clone();
        first.sort_by(|a, b| {
            let turned =
                |order: std::cmp::Ordering, turn| if turn { order } else { order.reverse() };
            turned(a.1.cmp(&b.1), low).then(turned(a.0.cmp(&b.0), left))
        });
        first
    };
    let corners = [(true, true), (false, true), (true, false), (false, false)];
    let tried = corners.map(|(left, low)| from(left, low)).into_iter();
    let orders = std::iter::once(first.clone()).chain(tried);
    let mut all = orders.map(|order| [order, last.clone()].concat());
    let fits = all.find(|order| !any_between(order));
    fits.unwrap_or_else(|| [first, last].concat())
}

/// Whether one is cut before its neighbours on either side, in its row or its column.
fn any_between(order: &[At]) -> bool {
    let turn = |place: At| order.iter().position(|other| *other == place);
    order.iter().enumerate().any(|(own, &(column, row))| {
        let later = |place: Option<At>| place.and_then(turn).is_some_and(|turn| turn > own);
        let left = column.checked_sub(1).map(|column| (column, row));
        let below = row.checked_sub(1).map(|row| (column, row));
        later(left) && later(Some((column + 1, row)))
            || later(below) && later(Some((column, row + 1)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // By hand: of five in a row the first two last. From the left the third would come before its neighbours on either
    // side, so that the others are cut from the right. Of a single one at an end nothing changes.
    #[test]
    fn no_place_is_cut_before_its_neighbours_on_either_side() {
        let columns = |last: fn(At) -> bool| {
            let order = with_last(row_by_row(5, 1), last).into_iter();
            order.map(|(column, _)| column).collect::<Vec<_>>()
        };
        assert_eq!(columns(|(column, _)| column < 2), [4, 3, 2, 0, 1]);
        assert_eq!(columns(|(column, _)| column > 2), [0, 1, 2, 3, 4]);
        assert_eq!(columns(|_| false), [0, 1, 2, 3, 4]);
        // In two rows the second would begin beside those that are last, if it went on where the first had ended.
        let order = with_last(row_by_row(3, 2), |(column, _)| column == 0);
        assert_eq!(order, [(2, 0), (1, 0), (2, 1), (1, 1), (0, 0), (0, 1)]);
        let rows = with_last(row_by_row(1, 4), |(_, row)| row == 0);
        assert_eq!(rows, [(0, 3), (0, 2), (0, 1), (0, 0)]);
    }
}
