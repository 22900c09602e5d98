//! How numbers and days are written where the reader lives.

use crate::FIELD;

/// The sign before decimals, the order of a day, the names of months.
pub(crate) struct Locale {
    sign: &'static str,
    day: &'static str,
    months: [&'static str; 12],
}

impl Default for Locale {
    /// `1.5`, `14 June 2031`.
    fn default() -> Self {
        let months = [
            "January",
            "February",
            "March",
            "April",
            "May",
            "June",
            "July",
            "August",
            "September",
            "October",
            "November",
            "December",
        ];
        Self { sign: ".", day: "{day} {month} {year}", months }
    }
}

impl Locale {
    /// Fourteen fields: sign, day, months; none where one is missing.
    pub(crate) fn read(record: &'static str) -> Option<Self> {
        let fields: Vec<_> = record.split(FIELD).collect();
        let [sign, day, months @ ..] = fields.as_slice() else { return None };
        Some(Self { sign, day, months: months.try_into().ok()? })
    }

    pub(crate) fn decimal(&self, written: String) -> String {
        if self.sign == "." { written } else { written.replace('.', self.sign) }
    }

    pub(crate) fn day(&self, year: i32, month: u8, day: u8) -> String {
        let month = self.month(month);
        let values = [
            ("day", format_args!("{day}")),
            ("month", format_args!("{month}")),
            ("year", format_args!("{year:04}")),
        ];
        crate::fill::fill(self.day, &values)
    }

    fn month(&self, month: u8) -> &'static str {
        let nth = usize::from(month.clamp(1, 12)) - 1;
        self.months[nth]
    }
}
