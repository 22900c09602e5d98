//! Label sheets: how the labels lie on the paper, in millimetres.

use language::{decimal, say};
use plot::Refusal;
use serde::{Deserialize, Serialize};

use crate::drawing::Frame;
use crate::{Format, Orientation, Paper};

/// How the labels of a sheet lie: columns and rows of one size, from the left upper corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LabelSheet {
    /// The paper.
    pub format: Format,
    /// Labels beside each other.
    pub columns: usize,
    /// Labels below each other.
    pub rows: usize,
    /// Width and height of a label, mm.
    pub label_mm: [f64; 2],
    /// From the paper's left and upper edge to the first label, mm.
    pub margin_mm: [f64; 2],
    /// From a label's left (upper) edge to that of the next, mm.
    pub pitch_mm: [f64; 2],
    /// By how much everything is moved to the right and down, mm: what a printer is off.
    pub offset_mm: [f64; 2],
}

/// Sizes for plain paper that is cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum LabelSize {
    /// Four by twelve on a page.
    Small,
    /// Three by eight.
    #[default]
    Medium,
    /// Two by four.
    Large,
}

/// Most labels on a sheet.
const MOST: usize = 1_000;

impl LabelSheet {
    /// So many labels on a page, with white around that any printer leaves, and nothing between.
    pub fn grid(paper: Paper, size: LabelSize) -> Self {
        const MARGIN_MM: f64 = 8.0;
        let (columns, rows) = match size {
            LabelSize::Small => (4, 12),
            LabelSize::Medium => (3, 8),
            LabelSize::Large => (2, 4),
        };
        let format = Format { paper, orientation: Orientation::Portrait };
        let [width, height] = format.size_mm();
        // The ruler has its room below.
        let label_mm = [
            (width - 2.0 * MARGIN_MM) / columns as f64,
            (height - 2.0 * MARGIN_MM - 9.0) / rows as f64,
        ];
        Self {
            format,
            columns,
            rows,
            label_mm,
            margin_mm: [MARGIN_MM; 2],
            pitch_mm: label_mm,
            offset_mm: [0.0; 2],
        }
    }

    /// Labels on a sheet.
    pub fn count(&self) -> usize {
        self.columns * self.rows
    }

    /// # Errors
    /// No label or more than 1,000; a length that is not finite, or negative; labels that lie over
    /// each other or beyond the paper.
    pub fn check(&self) -> Result<(), Refusal> {
        let counts = [self.columns, self.rows];
        if counts.contains(&0) || self.columns.saturating_mul(self.rows) > MOST {
            let found = format!("{}x{}", self.columns, self.rows);
            return Err(Refusal::new(
                "labels",
                found,
                say!("columns x rows, 1 to {most} labels", most = MOST),
            ));
        }
        let page = self.format.size_mm();
        for axis in 0..2 {
            let size = |length: f64| match (axis, decimal(length.to_string())) {
                (0, length) => say!("{length} mm wide"),
                (_, length) => say!("{length} mm high"),
            };
            let label = self.label_mm[axis];
            let lengths = [label, self.margin_mm[axis], self.pitch_mm[axis], self.offset_mm[axis]];
            let count = counts[axis] as f64;
            let from = self.margin_mm[axis] + self.offset_mm[axis];
            let to = from + (count - 1.0) * self.pitch_mm[axis] + label;
            let is_sound = lengths.iter().all(|length| length.is_finite()) && label > 0.0;
            if !is_sound {
                return Err(Refusal::new("label", size(label), say!("millimetres above 0")));
            }
            // Rounding of what a ruler said is no fault.
            if count > 1.0 && self.pitch_mm[axis] < label - 0.005 {
                let found = say!(
                    "{pitch} mm for labels {size}",
                    pitch = decimal(self.pitch_mm[axis].to_string()),
                    size = size(label)
                );
                return Err(Refusal::new("pitch", found, say!("at least the label")));
            }
            if from < -0.005 || to > page[axis] + 0.005 {
                let found = say!("labels from {from:.1} to {to:.1} mm");
                let expected =
                    say!("labels on the paper, which is {size}", size = size(page[axis]));
                return Err(Refusal::new("labels", found, expected));
            }
        }
        Ok(())
    }

    /// The nth label of a sheet, from 0: along the upper row first.
    pub(crate) fn frame(&self, nth: usize) -> Frame {
        let at = |axis: usize, step: usize| {
            self.margin_mm[axis] + self.offset_mm[axis] + step as f64 * self.pitch_mm[axis]
        };
        let [width, height] = self.label_mm;
        Frame { x: at(0, nth % self.columns), y: at(1, nth / self.columns), width, height }
    }

    /// White below the last label, mm.
    pub(crate) fn white_below_mm(&self) -> f64 {
        let last = self.frame(self.count() - 1);
        self.format.size_mm()[1] - last.y - last.height
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sizes_for_plain_paper_lie_on_it() {
        for paper in [Paper::A4, Paper::Letter] {
            for size in [LabelSize::Small, LabelSize::Medium, LabelSize::Large] {
                let sheet = LabelSheet::grid(paper, size);
                assert_eq!(sheet.check(), Ok(()), "{paper:?} {size:?}");
                assert!(sheet.white_below_mm() > 16.9);
            }
        }
    }

    #[test]
    fn labels_go_along_the_row_and_keep_pitch_and_offset() {
        let sheet = LabelSheet {
            columns: 3,
            rows: 2,
            label_mm: [60.0, 30.0],
            margin_mm: [7.0, 11.0],
            pitch_mm: [62.5, 33.0],
            offset_mm: [0.5, -1.0],
            ..LabelSheet::grid(Paper::A4, LabelSize::Medium)
        };
        assert_eq!(sheet.check(), Ok(()));
        let corner = |nth| (sheet.frame(nth).x, sheet.frame(nth).y);
        assert_eq!(corner(0), (7.5, 10.0));
        assert_eq!(corner(2), (132.5, 10.0));
        assert_eq!(corner(4), (70.0, 43.0));
    }

    #[test]
    fn what_does_not_lie_on_the_paper_is_refused() {
        let sound = LabelSheet::grid(Paper::A4, LabelSize::Medium);
        let check = |sheet: LabelSheet, column: &str| {
            assert_eq!(sheet.check().expect_err("refused").column, column, "{sheet:?}");
        };
        check(LabelSheet { columns: 0, ..sound }, "labels");
        check(LabelSheet { rows: 2000, ..sound }, "labels");
        check(LabelSheet { label_mm: [f64::NAN, 30.0], ..sound }, "label");
        check(LabelSheet { label_mm: [0.0, 30.0], ..sound }, "label");
        check(LabelSheet { pitch_mm: [50.0, 34.0], ..sound }, "pitch");
        check(LabelSheet { offset_mm: [30.0, 0.0], ..sound }, "labels");
        check(LabelSheet { offset_mm: [0.0, -9.0], ..sound }, "labels");
    }
}
