//! Points in time as values: a moment to the millisecond, and a day of the calendar.

use std::fmt;

use chrono::DateTime;
use chrono::Datelike;
use chrono::Days;
use chrono::DurationRound;
use chrono::NaiveDate;
use chrono::SecondsFormat;
use chrono::TimeDelta;
use chrono::Timelike;
use chrono::Utc;

use crate::domain::Invalid;

/// A moment in universal time, to the millisecond; its text form sorts by time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment(DateTime<Utc>);

impl Moment {
    /// The beginning of 1970 in UTC.
    pub const EPOCH: Self = Self(DateTime::<Utc>::UNIX_EPOCH);

    /// Wraps a time that the clock gave, cut to the millisecond that its text form keeps.
    #[must_use]
    pub fn new(time: DateTime<Utc>) -> Self {
        Self(
            time.duration_trunc(TimeDelta::milliseconds(1))
                .unwrap_or(time),
        )
    }

    /// Reads the text form, such as `2026-03-14T18:30:00.000Z`.
    ///
    /// # Errors
    /// The text is no such moment.
    pub fn parse(text: &str) -> Result<Self, Invalid> {
        if let Some(time) = own_form(text) {
            return Ok(Self(time));
        }
        DateTime::parse_from_rfc3339(text)
            .map(|time| Self(time.with_timezone(&Utc)))
            .map_err(|_| Invalid::Unreadable {
                what: "a moment",
                found: text.chars().take(40).collect(),
                example: "2026-03-14T18:30:00Z",
            })
    }

    /// The day in universal time.
    #[must_use]
    pub fn day(self) -> Day {
        Day(self.0.date_naive())
    }

    /// The time as the calendar library holds it.
    #[must_use]
    pub const fn utc(self) -> DateTime<Utc> {
        self.0
    }

    /// Whole seconds from `earlier` to this moment; negative when `earlier` is later.
    #[must_use]
    pub fn seconds_since(self, earlier: Self) -> i64 {
        (self.0 - earlier.0).num_seconds()
    }

    /// Milliseconds from `earlier` to this moment.
    #[must_use]
    pub fn milliseconds_since(self, earlier: Self) -> i64 {
        (self.0 - earlier.0).num_milliseconds()
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (day, time) = (self.0.date_naive(), self.0.time());
        let milliseconds = time.nanosecond() / 1_000_000;
        if !(0..=9_999).contains(&day.year()) || milliseconds > 999 {
            return f.write_str(&self.0.to_rfc3339_opts(SecondsFormat::Millis, true));
        }
        // The same form, put together without looking up what is to be shown: tables hold many thousands.
        let mut text = *b"0000-00-00T00:00:00.000Z";
        put_digits(&mut text[..4], day.year().unsigned_abs());
        put_digits(&mut text[5..7], day.month());
        put_digits(&mut text[8..10], day.day());
        put_digits(&mut text[11..13], time.hour());
        put_digits(&mut text[14..16], time.minute());
        put_digits(&mut text[17..19], time.second());
        put_digits(&mut text[20..23], milliseconds);
        f.write_str(std::str::from_utf8(&text).map_err(|_| fmt::Error)?)
    }
}

/// Writes a number into a place, with zeros before it.
fn put_digits(place: &mut [u8], mut number: u32) {
    for digit in place.iter_mut().rev() {
        *digit = b'0' + u8::try_from(number % 10).unwrap_or(0);
        number /= 10;
    }
}

/// A number of digits alone.
fn digits(text: &[u8]) -> Option<u32> {
    text.iter().try_fold(0_u32, |all, it| {
        it.is_ascii_digit().then(|| 10 * all + u32::from(it - b'0'))
    })
}

/// A time in just the form in which moments are written.
fn own_form(text: &str) -> Option<DateTime<Utc>> {
    let bytes: &[u8; 24] = text.as_bytes().try_into().ok()?;
    let signs = [bytes[10], bytes[13], bytes[16], bytes[19], bytes[23]];
    if signs != *b"T::.Z" {
        return None;
    }
    let day = date_of(text.get(..10)?)?;
    let (hour, minute) = (digits(&bytes[11..13])?, digits(&bytes[14..16])?);
    let (second, milliseconds) = (digits(&bytes[17..19])?, digits(&bytes[20..23])?);
    let time = day.and_hms_milli_opt(hour, minute, second, milliseconds)?;
    Some(time.and_utc())
}

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day(NaiveDate);

impl Day {
    /// Wraps a date.
    #[must_use]
    pub const fn new(date: NaiveDate) -> Self {
        Self(date)
    }

    /// Reads `2026-03-14`.
    ///
    /// # Errors
    /// The text is no such day, or the day lies outside 1900 to 2200.
    pub fn parse(text: &str) -> Result<Self, Invalid> {
        let unreadable = || Invalid::Unreadable {
            what: "a day",
            found: text.chars().take(40).collect(),
            example: "2026-03-14",
        };
        let date = date_of(text).ok_or_else(unreadable)?;
        if (1900..=2200).contains(&date.year()) {
            Ok(Self(date))
        } else {
            Err(unreadable())
        }
    }

    /// The day so many days later; the last day there is where that is beyond it.
    #[must_use]
    pub fn days_later(self, days: u16) -> Self {
        let later = self.0.checked_add_days(Days::new(u64::from(days)));
        Self(later.unwrap_or(NaiveDate::MAX))
    }

    /// The year and the week of the year (ISO 8601).
    #[must_use]
    pub fn week(self) -> (i32, u32) {
        let week = self.0.iso_week();
        (week.year(), week.week())
    }

    /// Days from `earlier` to this day; negative when `earlier` is later.
    #[must_use]
    pub fn days_since(self, earlier: Self) -> i64 {
        (self.0 - earlier.0).num_days()
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // The form of ISO 8601 for the years that a day can have; a format string would be read anew each time.
        fmt::Display::fmt(&self.0, f)
    }
}

/// The date in just the form `2026-03-14`. Lists read thousands of them, which a format string would take too long for.
fn date_of(text: &str) -> Option<NaiveDate> {
    let bytes: &[u8; 10] = text.as_bytes().try_into().ok()?;
    if bytes[4] != b'-' || bytes[7] != b'-' {
        return None;
    }
    let year = i32::try_from(digits(&bytes[..4])?).ok()?;
    NaiveDate::from_ymd_opt(year, digits(&bytes[5..7])?, digits(&bytes[8..])?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moment_survives_its_text_form() {
        let text = "2026-03-14T18:30:00.250Z";
        assert_eq!(Moment::parse(text).unwrap().to_string(), text);
    }

    #[test]
    fn a_day_that_is_not_in_the_calendar_is_refused() {
        for bad in [
            "2026-02-30",
            "14.3.2026",
            "2026-3-14",
            "0001-01-01",
            "2026-03-1x",
            "2026/03/14",
            "+026-03-14",
            "2026-03-140",
            "２６-03-14",
        ] {
            assert!(Day::parse(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn every_moment_reads_and_writes_as_the_calendar_library_does() {
        // Steps of days and odd seconds, over the ends of years and the limits of the short form.
        for step in 0..40_000_i64 {
            let time =
                DateTime::<Utc>::from_timestamp_millis(-65_000_000_000_000 + step * 8_640_012_345);
            let time = time.unwrap();
            let text = time.to_rfc3339_opts(SecondsFormat::Millis, true);
            assert_eq!(Moment(time).to_string(), text);
            if (0..=9_999).contains(&time.year()) {
                assert_eq!(Moment::parse(&text).unwrap(), Moment(time), "{text}");
            }
        }
        for bad in [
            "2026-03-14T24:00:00.000Z",
            "2026-02-30T10:00:00.000Z",
            "2026-03-14 10:00:00.00xZ",
        ] {
            assert!(Moment::parse(bad).is_err(), "{bad}");
        }
        // What others write is read too.
        let moment = Moment::parse("2026-03-14T19:30:00+01:00").unwrap();
        assert_eq!(moment.to_string(), "2026-03-14T18:30:00.000Z");
    }

    #[test]
    fn every_day_reads_as_it_is_written() {
        let first = NaiveDate::from_ymd_opt(1900, 1, 1).unwrap();
        for (number, date) in first.iter_days().take(109_938).enumerate() {
            let text = date.format("%Y-%m-%d").to_string();
            let day = Day::parse(&text).unwrap();
            assert_eq!((day, day.to_string()), (Day(date), text), "{number}");
        }
    }

    #[test]
    fn days_are_counted_over_a_leap_day() {
        let from = Day::parse("2028-02-28").unwrap();
        assert_eq!(Day::parse("2028-03-01").unwrap().days_since(from), 2);
    }
}
