//! The one place that reads the time.

use chrono::Local;
use chrono::Timelike;
use chrono::Utc;

use crate::domain::Day;
use crate::domain::Moment;

/// Where the time comes from.
pub struct Clock(Box<dyn FnMut() -> Moment + Send>);

impl Clock {
    /// The clock of the machine.
    #[must_use]
    #[expect(clippy::disallowed_methods, reason = "this is the clock")]
    pub fn system() -> Self {
        Self(Box::new(|| Moment::new(Utc::now())))
    }

    /// A clock that answers with what `tick` gives, for repeatable runs.
    #[must_use]
    pub fn from_fn(tick: impl FnMut() -> Moment + Send + 'static) -> Self {
        Self(Box::new(tick))
    }

    /// The time now.
    pub fn now(&mut self) -> Moment {
        (self.0)()
    }
}

/// The time of day in this machine's time zone at `moment`, in hours from midnight.
#[must_use]
pub(super) fn local_hour(moment: Moment) -> f64 {
    let time = moment.utc().with_timezone(&Local).time();
    f64::from(time.num_seconds_from_midnight()) / 3_600.0
}

/// The day on the calendar of this machine's time zone at `moment`.
#[must_use]
pub fn local_day(moment: Moment) -> Day {
    Day::new(moment.utc().with_timezone(&Local).date_naive())
}
