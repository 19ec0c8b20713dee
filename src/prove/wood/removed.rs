//! How much wood has gone.

use super::Part;
use super::field::Field;
use super::row::Layer;

/// Volumes of wood cut away, mm³, by what might happen to it.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(in crate::prove) struct Removed {
    /// Of what must go.
    pub go: f64,
    /// Of what may go.
    pub may_go: f64,
    /// Of what must stay.
    pub stay: f64,
}

impl Field {
    /// How much wood has been cut away so far.
    pub(in crate::prove) fn removed(&self) -> Removed {
        let mut removed = Removed::default();
        for row in &self.rows {
            for (begin, stretch) in row.iter() {
                if stretch.cut == f64::INFINITY {
                    continue;
                }
                let width = stretch.end - begin;
                for layer in self.stacks.get(stretch.stack).map_or(&[][..], Vec::as_slice) {
                    let depth = mean_depth(layer, stretch.cut_at(begin), stretch.cut);
                    let volume = width * row.height * depth;
                    match layer.part {
                        Part::Go(_) => removed.go += volume,
                        Part::MayGo => removed.may_go += volume,
                        Part::Stay => removed.stay += volume,
                    }
                }
            }
        }
        removed
    }
}

/// Mean depth cut from a layer where the cut runs evenly from one Z to another.
fn mean_depth(layer: &Layer, from: f64, to: f64) -> f64 {
    let depth = |z: f64| (layer.top - z).clamp(0.0, layer.top - layer.bottom);
    let (low, high) = (from.min(to), from.max(to));
    if low.to_bits() == high.to_bits() || high - low < 1e-9 {
        return depth(low);
    }
    // Outside the layer the depth is even; inside it changes evenly.
    let share = |z: f64| (z.clamp(low, high) - low) / (high - low);
    let (enters, leaves) = (share(layer.bottom), share(layer.top));
    depth(low) * enters + f64::midpoint(depth(low), depth(high)) * (leaves - enters)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mean_depth_of_a_slope_through_a_layer() {
        let layer = Layer { top: -2.0, bottom: -6.0, part: Part::MayGo };
        assert_eq!(mean_depth(&layer, -1.0, -1.0), 0.0);
        assert_eq!(mean_depth(&layer, -9.0, -9.0), 4.0);
        assert_eq!(mean_depth(&layer, -2.0, -6.0), 2.0);
        // From 0 to −8: a quarter none, half even, a quarter all: 0 + 1 + 1.
        assert_eq!(mean_depth(&layer, 0.0, -8.0), 2.0);
        assert_eq!(mean_depth(&layer, -8.0, 0.0), 2.0);
        assert_eq!(mean_depth(&layer, f64::NEG_INFINITY, f64::NEG_INFINITY), 4.0);
    }
}
