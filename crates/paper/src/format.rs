//! Sizes of paper, and a page of one.

/// A size of paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// 8½ × 11 in, 215.9 × 279.4 mm (ANSI/ASME Y14.1).
    Letter,
}

/// Which way the paper lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Orientation {
    /// Upright.
    #[default]
    Portrait,
    /// Lying.
    Landscape,
}

/// A size of paper and which way it lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Format {
    /// The size.
    pub paper: Paper,
    /// Which way.
    pub orientation: Orientation,
}

impl Format {
    /// Width and height, mm.
    pub fn size_mm(self) -> [f64; 2] {
        let [short, long] = match self.paper {
            Paper::A4 => [210.0, 297.0],
            Paper::Letter => [215.9, 279.4],
        };
        match self.orientation {
            Orientation::Portrait => [short, long],
            Orientation::Landscape => [long, short],
        }
    }

    /// The same paper, lying.
    pub fn landscape(self) -> Self {
        Self { orientation: Orientation::Landscape, ..self }
    }
}

/// One side of paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// A standalone SVG document; its unit is the millimetre.
    pub svg: String,
    /// Width and height, mm.
    pub size_mm: [f64; 2],
}
