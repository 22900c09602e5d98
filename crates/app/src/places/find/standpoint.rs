//! Where the person stands and which way the device points, while Find is open.

use leptos::prelude::*;
use plot::Globe;
use walk::Fix;

use crate::state::{App, app};
use crate::work::position::{self, NoPosition, Reading, Watching};

/// How far the position is known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Position {
    /// Nobody asked.
    #[default]
    Off,
    /// The device looks.
    Waiting,
    /// It is here.
    Read(Reading),
    /// There is none.
    None(NoPosition),
}

/// Position and heading, as signals.
#[derive(Clone, Copy, Debug)]
pub struct Standpoint {
    app: App,
    /// The position.
    pub position: RwSignal<Position>,
    /// Which way the top of the screen points, degrees from north; none without a compass.
    pub heading: RwSignal<Option<f64>>,
    watch: StoredValue<Option<Watching>, LocalStorage>,
    owner: StoredValue<Owner>,
}

impl Standpoint {
    /// Nothing is asked of the device yet.
    pub fn new() -> Self {
        Self {
            app: app(),
            position: RwSignal::default(),
            heading: RwSignal::default(),
            watch: StoredValue::new_local(None),
            owner: StoredValue::new(Owner::current().unwrap_or_default()),
        }
    }

    /// Follows the device's position until [`stop`](Self::stop), or until Find is left.
    pub fn follow(self) {
        self.position.set(Position::Waiting);
        let hear = move |heard: Result<Reading, NoPosition>| {
            // A fix that is lost for a moment is still the best there is.
            let keeps = heard == Err(NoPosition::NotFound)
                && matches!(self.position.try_get_untracked(), Some(Position::Read(_)));
            if !keeps {
                self.position.try_set(heard.map_or_else(Position::None, Position::Read));
            }
        };
        match position::watch(hear) {
            Ok(watch) => self.watch.set_value(Some(watch)),
            Err(none) => self.position.set(Position::None(none)),
        }
    }

    /// Lets the position go.
    pub fn stop(self) {
        self.watch.set_value(None);
        self.position.set(Position::Off);
    }

    /// Follows the compass until Find is left.
    pub fn follow_compass(self) {
        let hear = move |heading: f64| {
            self.heading.try_set(Some(heading.round()));
        };
        self.owner.with_value(|owner| owner.with(|| position::follow_heading(hear)));
    }

    /// The position in the plot's plane; none without one. Follows.
    pub fn fix(self) -> Option<Fix> {
        let Position::Read(Reading { lon, lat, accuracy_m }) = self.position.get() else {
            return None;
        };
        self.app.plot(|plot| Fix::of(plot, Globe { lon, lat }, accuracy_m)).flatten()
    }

    /// Whether the plot says where on earth it lies.
    pub fn is_on_earth(self) -> bool {
        self.app.plot(|plot| plot.head().origin.is_some()) == Some(true)
    }
}

/// Find's standpoint.
///
/// # Panics
/// Outside of Find.
pub fn standpoint() -> Standpoint {
    expect_context()
}
