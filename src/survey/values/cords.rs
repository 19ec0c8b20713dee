//! The grooves that the cords of a sliding sash lie in.

/// What is known of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cords {
    /// The survey does not tell.
    NotStated,
    /// There is none.
    None,
    /// One in the outer edge of either stile.
    Groove(CordGroove),
}

/// A groove in the outer edge of a stile, from its top down. 12.7 by 12.7 mm, to above the middle, are common
/// practice (a treatise on building construction has half an inch).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CordGroove {
    /// From the outer edge into the wood, mm.
    pub depth: f64,
    /// Square to the glass, mm.
    pub width: f64,
    /// Glazing face to its near side, mm.
    pub from_face: f64,
    /// From the stile's top down, mm.
    pub length: f64,
}
