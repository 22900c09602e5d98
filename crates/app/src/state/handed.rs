//! The judge's copy of the plot: handed over in pieces, then line by line.

use judge::{ToJudge, breathe};
use leptos::prelude::*;
use serde_bytes::Bytes;

use super::App;

/// So many bytes of a file are handed to the judge at once: the page must not stop for it.
const PIECE_BYTES: usize = 1 << 20;

/// How much of the plot the judge has.
#[derive(Clone, Copy, Debug, Default)]
pub struct Handed {
    /// Counts how often it was begun to be handed over.
    nth: u64,
    /// Whether the judge has all of it.
    is_whole: bool,
}

impl App {
    /// Sends a line that was added.
    pub(super) fn judge_line(self, line: &[u8]) {
        if self.handed.get_value().is_whole {
            self.tell_judge(&ToJudge::Line(Bytes::new(line)));
        }
    }

    /// The judge's copy of the trees is no longer true: it gets the plot anew.
    pub(super) fn trees_changed(self) {
        self.handed.update_value(|handed| handed.is_whole = false);
        self.forget_lookup();
    }

    /// The judge has no plot, or the wrong one.
    pub(super) fn judge_lost_plot(self) {
        self.handed
            .update_value(|handed| *handed = Handed { nth: handed.nth + 1, is_whole: false });
    }

    /// Gives the judge the plot's files, unless it has them; anew when the plot changes meanwhile.
    /// Pictures tell it nothing. Gives whether it has them: not when something else began it anew.
    pub(super) async fn hand_plot(self) -> bool {
        while !self.handed.get_value().is_whole {
            self.judge_lost_plot();
            let nth = self.handed.get_value().nth;
            let version = self.version.get_untracked();
            self.tell_judge(&ToJudge::Plot);
            let is_same =
                || self.handed.get_value().nth == nth && self.version.get_untracked() == version;
            for (file, from) in self.pieces() {
                self.book_now(|book| {
                    let Some(bytes) = book.files().get(&file) else { return };
                    let to = bytes.len().min(from + PIECE_BYTES);
                    let of = bytes.len() as u64;
                    let bytes = Bytes::new(&bytes[from..to]);
                    self.tell_judge(&ToJudge::Piece { file: &file, of, bytes });
                });
                breathe().await;
                if !is_same() {
                    break;
                }
            }
            if self.handed.get_value().nth != nth {
                return false;
            }
            if is_same() {
                self.handed.set_value(Handed { nth, is_whole: true });
            }
        }
        true
    }

    /// The files that tell the judge something, and where their pieces begin.
    fn pieces(self) -> Vec<(String, usize)> {
        let pieces = self.book_now(|book| {
            let files = book.files().iter().filter(|(path, _)| !files::is_photo(path));
            let starts = |(path, bytes): (&String, &Vec<u8>)| {
                let path = path.clone();
                (0..bytes.len().max(1)).step_by(PIECE_BYTES).map(move |from| (path.clone(), from))
            };
            files.flat_map(starts).collect()
        });
        pieces.unwrap_or_default()
    }
}
