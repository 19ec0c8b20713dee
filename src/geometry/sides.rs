//! Four values, one for each side of an upright rectangle.

use schemars::JsonSchema;
use serde::Serialize;
use std::fmt;

/// A side of an upright rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// Smaller X.
    Left,
    /// Larger X.
    Right,
    /// Smaller Y.
    Bottom,
    /// Larger Y.
    Top,
}

impl Side {
    /// Every side, in the order that reports use.
    pub const ALL: [Side; 4] = [Side::Left, Side::Right, Side::Bottom, Side::Top];

    /// Whether the side runs upright (left and right do).
    pub fn is_upright(self) -> bool {
        matches!(self, Side::Left | Side::Right)
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Side::Left => "left",
            Side::Right => "right",
            Side::Bottom => "bottom",
            Side::Top => "top",
        })
    }
}

/// One value a side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, JsonSchema)]
pub struct PerSide<T> {
    /// Value of the left side.
    pub left: T,
    /// Value of the right side.
    pub right: T,
    /// Value of the bottom side.
    pub bottom: T,
    /// Value of the top side.
    pub top: T,
}

impl<T> PerSide<T> {
    /// The value of `side`.
    pub fn get(&self, side: Side) -> &T {
        match side {
            Side::Left => &self.left,
            Side::Right => &self.right,
            Side::Bottom => &self.bottom,
            Side::Top => &self.top,
        }
    }

    /// Asks `value` for each side.
    pub fn from_fn(mut value: impl FnMut(Side) -> T) -> Self {
        Self {
            left: value(Side::Left),
            right: value(Side::Right),
            bottom: value(Side::Bottom),
            top: value(Side::Top),
        }
    }

    /// Applies `change` to every value.
    pub fn map<U>(&self, mut change: impl FnMut(&T) -> U) -> PerSide<U> {
        PerSide::from_fn(|side| change(self.get(side)))
    }

    /// Sides with their values, in the order of [`Side::ALL`].
    pub fn iter(&self) -> impl Iterator<Item = (Side, &T)> {
        Side::ALL.into_iter().map(|side| (side, self.get(side)))
    }
}

impl<T: Clone> PerSide<T> {
    /// The same value on all four sides.
    pub fn all(value: T) -> Self {
        PerSide::from_fn(|_| value.clone())
    }
}

impl PerSide<f64> {
    /// `rect` grown outwards by each side's value (inwards where negative).
    pub fn grow(&self, rect: kurbo::Rect) -> kurbo::Rect {
        kurbo::Rect::new(
            rect.x0 - self.left,
            rect.y0 - self.bottom,
            rect.x1 + self.right,
            rect.y1 + self.top,
        )
    }
}
