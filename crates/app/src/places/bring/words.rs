//! What the parts of a list are called on the screen.

use files::list::{Counts, Decimal, Encoding, MatchBy, Separator, Skipped, Target};
use language::{count, say};
use plot::TreeField as F;

pub(super) fn encoding(one: Encoding) -> &'static str {
    match one {
        Encoding::Utf8 => "UTF-8",
        Encoding::Utf16Le => say!("UTF-16, low byte first"),
        Encoding::Utf16Be => say!("UTF-16, high byte first"),
        Encoding::Windows1252 => say!("Windows-1252 (Latin-1)"),
    }
}

pub(super) fn separator(one: Separator) -> &'static str {
    match one {
        Separator::Tab => say!("tab"),
        Separator::Semicolon => say!("semicolon ;"),
        Separator::Pipe => say!("bar |"),
        Separator::Comma => say!("comma ,"),
    }
}

pub(super) fn decimal(one: Decimal) -> &'static str {
    match one {
        Decimal::Dot => say!("a dot, 0.75"),
        Decimal::Comma => say!("a comma, 0,75"),
    }
}

pub(super) fn fill_rows(one: bool) -> &'static str {
    match one {
        true => say!("have the row above"),
        false => say!("have no row"),
    }
}

pub(super) fn match_by(one: MatchBy) -> &'static str {
    match one {
        MatchBy::TreeId => "tree_id",
        MatchBy::Place => say!("row and place"),
        MatchBy::Tag => say!("tag"),
        MatchBy::Nothing => say!("nothing: all are new trees"),
    }
}

pub(super) fn target(one: Target) -> &'static str {
    match one {
        Target::Skip => say!("(left out)"),
        Target::TreeId => "tree_id",
        Target::RowPlace => say!("row and place in one"),
        Target::Cross => say!("cross: both parents"),
        Target::Field(field) => match field {
            F::Row => say!("row"),
            F::Place => say!("place"),
            F::X => say!("metres along the row (x_m)"),
            F::Y => say!("metres across the rows (y_m)"),
            F::Lon => say!("longitude"),
            F::Lat => say!("latitude"),
            F::Tag => say!("tag"),
            F::Genotype => say!("genotype: copies share it"),
            F::SeedParent => say!("seed parent"),
            F::PollenParent => say!("pollen parent"),
            F::CrossYear => say!("year of the cross"),
            F::SeedlingNo => say!("seedling number"),
            F::Role => say!("role"),
            F::GraftedOn => say!("grafted on (tree_id)"),
            F::Status => say!("status"),
            F::PlantedOn => say!("planted on"),
            F::RemovedOn => say!("removed on"),
            F::Note => say!("note"),
        },
    }
}

pub(super) fn skipped(one: Skipped) -> &'static str {
    match one {
        Skipped::Header => say!("the header again"),
        Skipped::Total => say!("a total"),
        Skipped::Remark => say!("one cell alone"),
    }
}

/// `412 trees new, 3 changed`
pub(super) fn brought(counts: Counts) -> String {
    match (counts.new, counts.changed) {
        (new, 0) => count!(new, "1 tree new", "{new} trees new"),
        (0, changed) => count!(changed, "1 tree changed", "{changed} trees changed"),
        (new, changed) => {
            count!(new, "1 tree new, {changed} changed", "{new} trees new, {changed} changed")
        }
    }
}
