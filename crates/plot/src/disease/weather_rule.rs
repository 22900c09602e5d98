//! Rules of weather with the numbers that a disease gives them; what they count is told by the crate
//! `season`.

/// How weather tells what could infect.
#[derive(Clone, Debug, PartialEq)]
pub enum WeatherRule {
    /// Hours of wetness that are needed at a temperature.
    Wetness(Wetness),
    /// Warmth and wetting while flowers are open.
    OpenFlowers(OpenFlowers),
    /// Months that are rainy and mild.
    FavourableMonths(FavourableMonths),
}

/// How long leaves must be wet at a temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct Wetness {
    /// Hours without wetness that end a spell.
    pub break_hours: u16,
    /// Wetness that begins in the night counts from the morning; none: it counts at once.
    pub night: Option<Night>,
    /// Hours that are needed, by rising temperature; one line at least.
    pub table: Vec<WetnessLine>,
}

/// The night, within which spores are not set free.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Night {
    /// Hour of the day, 0 to 23, from which it is night.
    pub from_hour: u8,
    /// Hour of the day, earlier than that, from which wetness counts.
    pub counts_from_hour: u8,
}

/// One line of a table of wetness. Where one line has numbers for moderate or severe infection or
/// for conidia, all have.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WetnessLine {
    /// Lowest temperature that it holds for, °C.
    pub from_c: f64,
    /// Highest temperature, °C.
    pub to_c: f64,
    /// Hours of wetness for an infection.
    pub hours: f64,
    /// For a moderate one.
    pub moderate_hours: Option<f64>,
    /// For a severe one.
    pub severe_hours: Option<f64>,
    /// For one by conidia, possible and certain.
    pub conidia_hours: Option<[f64; 2]>,
    /// Days from infection to lesions, least and most.
    pub lesion_days: Option<[f64; 2]>,
}

/// Warmth and wetting that open flowers need to be infected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpenFlowers {
    /// Degree-hours that are needed.
    pub degree_hours: f64,
    /// Their base, °C.
    pub degree_hours_above_c: f64,
    /// Degree-days over which they are counted.
    pub within_degree_days: f64,
    /// Their base, °C.
    pub degree_days_above_c: f64,
    /// Daily mean that is needed, °C.
    pub daily_mean_c: f64,
    /// Rain of the day that wets flowers, mm.
    pub rain_mm: f64,
    /// Rain of the day before that still does, mm.
    pub rain_day_before_mm: f64,
}

/// What makes a month favour a disease: more than each of the two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FavourableMonths {
    /// Share of days with rain, 0 to 1.
    pub rain_days_share: f64,
    /// Hours a day within the temperatures, on average.
    pub warm_hours_a_day: f64,
    /// Lowest of these temperatures, °C.
    pub warm_from_c: f64,
    /// Highest, °C.
    pub warm_to_c: f64,
}
