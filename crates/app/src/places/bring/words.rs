//! What the parts of a list are called on the screen.

use files::list::{Counts, Decimal, Encoding, MatchBy, Separator, Skipped, Target};
use plot::TreeField as F;
use scene::words::count;

pub(super) fn encoding(one: Encoding) -> &'static str {
    match one {
        Encoding::Utf8 => "UTF-8",
        Encoding::Utf16Le => "UTF-16, low byte first",
        Encoding::Utf16Be => "UTF-16, high byte first",
        Encoding::Windows1252 => "Windows-1252 (Latin-1)",
    }
}

pub(super) fn separator(one: Separator) -> &'static str {
    match one {
        Separator::Tab => "tab",
        Separator::Semicolon => "semicolon ;",
        Separator::Pipe => "bar |",
        Separator::Comma => "comma ,",
    }
}

pub(super) fn decimal(one: Decimal) -> &'static str {
    match one {
        Decimal::Dot => "a dot, 0.75",
        Decimal::Comma => "a comma, 0,75",
    }
}

pub(super) fn fill_rows(one: bool) -> &'static str {
    match one {
        true => "have the row above",
        false => "have no row",
    }
}

pub(super) fn match_by(one: MatchBy) -> &'static str {
    match one {
        MatchBy::TreeId => "tree_id",
        MatchBy::Place => "row and place",
        MatchBy::Tag => "tag",
        MatchBy::Nothing => "nothing: all are new trees",
    }
}

pub(super) fn target(one: Target) -> &'static str {
    match one {
        Target::Skip => "(left out)",
        Target::TreeId => "tree_id",
        Target::RowPlace => "row and place in one",
        Target::Cross => "cross: both parents",
        Target::Field(field) => match field {
            F::Row => "row",
            F::Place => "place",
            F::X => "metres along the row (x_m)",
            F::Y => "metres across the rows (y_m)",
            F::Lon => "longitude",
            F::Lat => "latitude",
            F::Tag => "tag",
            F::Genotype => "genotype: copies share it",
            F::SeedParent => "seed parent",
            F::PollenParent => "pollen parent",
            F::CrossYear => "year of the cross",
            F::SeedlingNo => "seedling number",
            F::Role => "role",
            F::GraftedOn => "grafted on (tree_id)",
            F::Status => "status",
            F::PlantedOn => "planted on",
            F::RemovedOn => "removed on",
            F::Note => "note",
        },
    }
}

pub(super) fn skipped(one: Skipped) -> &'static str {
    match one {
        Skipped::Header => "the header again",
        Skipped::Total => "a total",
        Skipped::Remark => "one cell alone",
    }
}

/// `412 trees new, 3 changed`
pub(super) fn brought(counts: Counts) -> String {
    match (counts.new, counts.changed) {
        (new, 0) => format!("{} new", count(new, "tree")),
        (0, changed) => format!("{} changed", count(changed, "tree")),
        (new, changed) => format!("{} new, {changed} changed", count(new, "tree")),
    }
}
