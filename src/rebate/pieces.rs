//! A sash of any shape cut into prisms: its frame edge by edge, its bars along their strips, and both
//! along the new walls.

use crate::fit::UnitFit;
use crate::fit::corner::FLAT;
use crate::geometry::{COINCIDENT, Edge, Outline, Region, ShapeError, Side};
use crate::language::Text;
use crate::sash::{Part, PlacedBar, Sash, Solid, Stretch, open_to_both};
use crate::survey::Bar;
use kurbo::{Point, Rect, Vec2};

/// A region with the same wood all over.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    region: Region,
    /// What a joiner calls the part.
    part: String,
    wood: Vec<Stretch>,
}

/// Divides the wood of a sash of any shape along every wall: the pieces, and whether each lies inside.
///
/// # Errors
/// Where outlines cannot be cut by each other without doubt.
pub(super) fn divide(sash: &Sash, units: &[UnitFit]) -> Result<Vec<(Piece, bool)>, ShapeError> {
    let mut uncut = frame(sash)?;
    uncut.extend(bars(sash)?);
    let mut pieces = Vec::new();
    for unit in units {
        let wall = Region::solid(unit.outlines.wall.outline().clone());
        let mut outside = Vec::with_capacity(uncut.len());
        for piece in uncut {
            let [inside, rest] = piece.region.split(&wall)?;
            for region in inside {
                pieces.push((Piece { region, ..piece.clone() }, true));
            }
            outside.extend(rest.into_iter().map(|region| Piece { region, ..piece.clone() }));
        }
        uncut = outside;
    }
    pieces.extend(uncut.into_iter().map(|piece| (piece, false)));
    Ok(pieces)
}

/// What of the pieces goes and what stays where all wood inside the walls is `taken`.
pub(super) fn cut(pieces: &[(Piece, bool)], taken: Stretch) -> (Vec<Solid>, Vec<Solid>) {
    let (mut go, mut stay) = (Vec::new(), Vec::new());
    let solid = |piece: &Piece, stretch: Stretch| Solid {
        name: Text::name(&piece.part),
        region: piece.region.clone(),
        top: stretch.top,
        bottom: stretch.bottom,
    };
    for (piece, inside) in pieces {
        for stretch in &piece.wood {
            if *inside {
                go.extend(stretch.intersection(taken).map(|s| solid(piece, s)));
                stay.extend(stretch.difference(taken).into_iter().map(|s| solid(piece, s)));
            } else {
                stay.push(solid(piece, *stretch));
            }
        }
    }
    (go, stay)
}

/// Every edge of the daylight with the wood behind it: the old rebate, where bars are housed in it their
/// webs, and the rest of the member. Straight stiles run past rails, as their tenons do; other members meet
/// along mitres.
fn frame(sash: &Sash) -> Result<Vec<Piece>, ShapeError> {
    let rings = Rings::new(sash)?;
    let mut pieces = Vec::new();
    for (index, (_, side)) in sash.outline.edges().enumerate() {
        let part = sash.part_name(Part::Member(side));
        let piece =
            |region, wood: &[Stretch]| Piece { region, part: part.clone(), wood: wood.to_vec() };
        let member = sash.measured.members.get(side);
        let whole = Stretch { top: 0.0, bottom: -member.thickness };
        if let Some(behind) = rings.between([0, 1], index) {
            let (webs, open) =
                split(vec![Region::solid(behind)], &sash.bars, |bar| bar.measured.web())?;
            pieces.extend(webs.into_iter().map(|region| piece(region, &[whole])));
            let mut open = vec![(open, Some(member.old.gap()))];
            for (at, other, towards) in crossing_rebates(sash, &rings, index) {
                let half = Region::solid(half_plane(at, towards, sash.outer)?);
                let (regions, own) = open.swap_remove(0);
                let shared = open_to_both(own, Some(other));
                let (mut both, mut alone) = (Vec::new(), Vec::new());
                for region in &regions {
                    let [within, without] = region.split(&half)?;
                    both.extend(within);
                    alone.extend(without);
                }
                open.insert(0, (alone, own));
                open.push((both, shared));
            }
            for (regions, gap) in open {
                let wood = gap.map_or(vec![whole], |gap| whole.difference(gap));
                pieces.extend(regions.into_iter().map(|region| piece(region, &wood)));
            }
        }
        if let Some(body) = rings.between([1, 2], index) {
            pieces.push(piece(Region::solid(body), &[whole]));
        }
    }
    Ok(pieces)
}

/// The daylight and what it becomes where its edges move out to the old walls and to the outer edges, edge by
/// edge.
struct Rings {
    edges: [Vec<Edge>; 3],
    sides: Vec<Side>,
    /// At the start of each edge, where a stile runs past a rail, the end of the rail in each ring; none where
    /// members meet along a mitre.
    rail_ends: Vec<Option<[Point; 3]>>,
}

impl Rings {
    fn new(sash: &Sash) -> Result<Rings, ShapeError> {
        let members = &sash.measured.members;
        let (near, sides) = sash.outline.edges().map(|(edge, side)| (*edge, side)).unzip();
        let old = sash.outline.grown_edges(&members.map(|member| member.old.width()))?;
        let outer = sash.outline.grown_edges(&members.map(|member| member.width))?;
        let mut rings = Rings { edges: [near, old, outer], sides, rail_ends: Vec::new() };
        let count = rings.sides.len();
        let past = 2.0 * (sash.outer.width() + sash.outer.height());
        rings.rail_ends =
            (0..count).map(|out| rings.rail_end((out + count - 1) % count, out, past)).collect();
        Ok(rings)
    }

    fn is_stile(&self, index: usize) -> bool {
        self.sides.get(index).is_some_and(|side| side.is_upright())
    }

    /// Where the rail of two straight neighbours ends at the stile, whose sight edge is run on by `past` mm.
    fn rail_end(&self, into: usize, out: usize, past: f64) -> Option<[Point; 3]> {
        let [near, old, outer] = &self.edges;
        let (Edge::Line(a), Edge::Line(b)) = (near.get(into)?, near.get(out)?) else { return None };
        let (along, on) = (near.get(into)?.direction(1.0), near.get(out)?.direction(0.0));
        if self.is_stile(into) == self.is_stile(out) || along.cross(on) <= FLAT {
            return None;
        }
        let (stile, rail) = if self.is_stile(into) {
            (Edge::line(a.p0, a.p1 + past * along), out)
        } else {
            (Edge::line(b.p0 - past * on, b.p1), into)
        };
        let end = |ring: &[Edge]| stile.crossings(ring.get(rail)?).first().copied();
        Some([b.p0, end(old)?, end(outer)?])
    }

    /// At the start of an edge, where in that ring it and the edge before it end: first the end that lies nearer to
    /// the daylight. They differ where a step joins the two, which is a shoulder of the wider one.
    fn steps(&self, ring: usize, corner: usize) -> Option<[Point; 2]> {
        let before = (corner + self.sides.len() - 1) % self.sides.len();
        let edges = self.edges.get(ring)?;
        let ends = [edges.get(before)?.end(), edges.get(corner)?.start()];
        let at = self.edges.first()?.get(corner)?.start();
        let [leave, enter] = ends.map(|end| (end - at).hypot());
        Some(if leave <= enter { ends } else { [ends[1], ends[0]] })
    }

    /// The wood along edge `index` between a ring and the next one; none where they coincide.
    fn between(&self, [inner, outer]: [usize; 2], index: usize) -> Option<Outline> {
        let edge = |ring: usize| self.edges.get(ring)?.get(index).copied();
        let (near, far) = (edge(inner)?, edge(outer)?);
        // From the inner ring to the outer one.
        let end = |corner: usize, from: Point, to: Point| -> Option<Vec<Point>> {
            let Some(Some(ends)) = self.rail_ends.get(corner) else {
                let [[_, leave], [enter, _]] =
                    [self.steps(inner, corner)?, self.steps(outer, corner)?];
                return Some(vec![from, leave, enter, to]);
            };
            let of_rail = [inner, outer].into_iter().filter_map(|ring| ends.get(ring).copied());
            Some(if self.is_stile(index) {
                [from].into_iter().chain(of_rail).chain([to]).collect()
            } else {
                of_rail.collect()
            })
        };
        let first = end(index, near.start(), far.start())?;
        let mut last = end((index + 1) % self.sides.len(), near.end(), far.end())?;
        last.reverse();
        let run = |edge: Edge, from: &[Point], to: &[Point]| match (edge, from.last(), to.first()) {
            (Edge::Line(_), Some(from), Some(to)) => Edge::line(*from, *to),
            _ => edge,
        };
        let ends = |points: &[Point]| -> Vec<Edge> {
            points
                .windows(2)
                .flat_map(<[Point; 2]>::try_from)
                .map(|[a, b]| Edge::line(a, b))
                .collect()
        };
        let mut round = vec![run(far, &first, &last)];
        round.extend(ends(&last));
        round.push(run(near.reversed(), &last, &first));
        round.extend(ends(&first));
        // Where neighbours moved by nothing, a mitre has no length.
        round.retain(|edge| edge.length() > COINCIDENT);
        Outline::new(Outline::new(round).ok()?.merged()).ok()
    }
}

/// At the ends of an edge of the daylight, the rebates of its neighbours that cross its own and leave other
/// wood there: the corner, where the neighbour has no wood, and which way its edge runs.
fn crossing_rebates(sash: &Sash, rings: &Rings, index: usize) -> Vec<(Point, Stretch, Vec2)> {
    let edges: Vec<(&Edge, Side)> = sash.outline.edges().collect();
    let count = edges.len();
    let around = |by: usize| edges.get((index + by) % count).copied();
    let (Some((own, side)), Some(before), Some(after)) = (around(0), around(count - 1), around(1))
    else {
        return Vec::new();
    };
    let gap = |side: Side| sash.measured.members.get(side).old.gap();
    let ends = [
        (own.start(), before.1, before.0.direction(1.0), own.direction(0.0)),
        (own.end(), after.1, after.0.direction(0.0), own.direction(1.0)),
    ];
    let passed = |corner: usize| matches!(rings.rail_ends.get(corner % count), Some(Some(_)));
    // Edges that run on smoothly into each other, or turn outwards, have no corner behind them; nor has a rail
    // that ends there.
    let crossed = ends.into_iter().enumerate().filter(|(end, (_, other, along, own))| {
        let turn = if *end == 0 { along.cross(*own) } else { own.cross(*along) };
        let ends_here = passed(index + *end) && !rings.is_stile(index);
        turn > FLAT && gap(*other) != gap(side) && !ends_here
    });
    crossed.map(|(_, (at, other, along, _))| (at, gap(other), along)).collect()
}

/// Everything on the right of a line, as far as the sash reaches.
fn half_plane(at: Point, along: Vec2, outer: Rect) -> Result<Outline, ShapeError> {
    let far = 2.0 * (outer.width() + outer.height());
    let (on, right) = (far * along, far * Vec2::new(along.y, -along.x));
    Ok(Outline::polygon(&[at - on, at - on + right, at + on + right, at + on])?)
}

/// The bars inside the daylight. Uprights own the crossings; webs stand to the face wherever one runs.
fn bars(sash: &Sash) -> Result<Vec<Piece>, ShapeError> {
    let daylight = Region::solid(sash.outline.outline().clone());
    let mut pieces = Vec::new();
    let mut free = vec![daylight];
    for bar in sash.bars_by_owner() {
        let (own, rest) = split(free, std::slice::from_ref(bar), |bar| bar.measured.width)?;
        free = rest;
        let (webs, cheeks) = split(own, &sash.bars, |bar| bar.measured.web())?;
        let Bar { thickness, rebate_depth, .. } = bar.measured;
        for (regions, top) in [(webs, 0.0), (cheeks, -rebate_depth)] {
            let wood = vec![Stretch { top, bottom: -thickness }];
            let piece = |region| Piece { region, part: bar.name(), wood: wood.clone() };
            pieces.extend(regions.into_iter().map(piece));
        }
    }
    Ok(pieces)
}

/// What of `regions` lies under any of the bars, each taken as wide as `width` says, and what does not.
fn split(
    regions: Vec<Region>,
    bars: &[PlacedBar],
    width: impl Fn(&PlacedBar) -> f64,
) -> Result<(Vec<Region>, Vec<Region>), ShapeError> {
    let (mut under, mut free) = (Vec::new(), regions);
    for bar in bars.iter().filter(|bar| width(bar) > COINCIDENT) {
        let strip = Region::solid(bar.strip(width(bar))?);
        let mut left = Vec::with_capacity(free.len());
        for region in &free {
            let [within, without] = region.split(&strip)?;
            under.extend(within);
            left.extend(without);
        }
        free = left;
    }
    Ok((under, free))
}
