//! Where the sun stands at a clock time, and when it rises and sets.
//!
//! Clock times are seconds since local midnight of a date. They may be negative or larger than a day.

use crate::numerics::{acos, asin, atan2, cos, sin, sin_cos, square, tan};

/// Elevation of the sun's centre at sunrise and sunset [°]: refraction at the horizon and the radius of the disc.
pub const SUNRISE_ELEVATION_DEG: f64 = -0.833;

/// Elevation of the sun's centre at which civil twilight ends [°].
pub const CIVIL_TWILIGHT_DEG: f64 = -6.0;

/// Elevation of the sun's centre at which nautical twilight ends [°].
pub const NAUTICAL_TWILIGHT_DEG: f64 = -12.0;

const DAY_S: f64 = 86_400.0;

/// Seconds in which the Earth turns by one degree.
const TURN_S_PER_DEG: f64 = 240.0;

/// Sunlight on a plane that faces the sun, outside the air, at one astronomical unit [W/m²].
const SOLAR_CONSTANT_W_M2: f64 = 1361.0;

/// Position of a water on the Earth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Location {
    /// Latitude, north positive [°].
    pub latitude_deg: f64,
    /// Longitude, east positive [°].
    pub longitude_deg: f64,
}

/// A day of the Gregorian calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: i32,
    month: u32,
    day: u32,
}

impl Date {
    /// Day of a year, month (1 to 12) and day of the month. `None` if the calendar has no such day.
    ///
    /// Years from 1800 to 2100 are accepted, for which the equations of the sun are good.
    ///
    /// ```
    /// use sim::water::Date;
    /// assert!(Date::new(2024, 2, 29).is_some());
    /// assert!(Date::new(2026, 2, 29).is_none());
    /// ```
    #[must_use]
    pub fn new(year: i32, month: u32, day: u32) -> Option<Self> {
        let is_leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
        let days = match month {
            2 if is_leap => 29,
            2 => 28,
            4 | 6 | 9 | 11 => 30,
            1..=12 => 31,
            _ => return None,
        };
        let is_day = (1800..=2100).contains(&year) && (1..=days).contains(&day);
        is_day.then_some(Self { year, month, day })
    }

    /// Julian day at 0 h universal time \[d\].
    ///
    /// - **Source** `meeus-1998` (chapter 7).
    /// - **Checked by** V-200 (printed Julian days).
    #[must_use]
    pub fn julian_day(self) -> f64 {
        let (year, month) =
            if self.month > 2 { (self.year, self.month) } else { (self.year - 1, self.month + 12) };
        let century = f64::from(year.div_euclid(100));
        (365.25 * f64::from(year + 4716)).floor()
            + (30.6001 * f64::from(month + 1)).floor()
            + f64::from(self.day)
            + 2.0
            - century
            + (century / 4.0).floor()
            - 1524.5
    }
}

/// The sun as seen from the centre of the Earth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunCoordinates {
    /// Apparent longitude along the ecliptic [°], not reduced to one turn.
    pub apparent_longitude_deg: f64,
    /// Declination [°].
    pub declination_deg: f64,
    /// Equation of time: sundial time minus mean solar time [s].
    pub equation_of_time_s: f64,
    /// Distance [astronomical units].
    pub distance_au: f64,
}

impl SunCoordinates {
    /// The sun on a Julian day with its fraction, universal time \[d\].
    ///
    /// Mean longitude L, anomaly M and eccentricity e of the orbit as polynomials of the time; equation of the
    /// centre with three sines; aberration and nutation of the apparent longitude;
    /// equation of time y sin 2L − 2e sin M + 4ey sin M cos 2L − ½y² sin 4L − 1¼e² sin 2M, y = tan²(ε/2).
    ///
    /// - **Holds for** 1800 to 2100, within 0.01° and 1 s; the difference between universal and dynamical time,
    ///   about a minute, is left out.
    /// - **Source** `meeus-1998` (chapters 25 and 28), `noaa-solar`.
    /// - **Checked by** V-200 (a printed example), V-201 (equinoxes, solstices, equation of time).
    #[must_use]
    pub fn at_julian_day(julian_day: f64) -> Self {
        let t = (julian_day - 2_451_545.0) / 36_525.0;
        let mean_longitude = (280.466_46 + t * (36_000.769_83 + t * 0.000_303_2)).to_radians();
        let anomaly = (357.529_11 + t * (35_999.050_29 - t * 0.000_153_7)).to_radians();
        let eccentricity = 0.016_708_634 - t * (0.000_042_037 + t * 0.000_000_126_7);
        let centre_deg = (1.914_602 - t * (0.004_817 + t * 0.000_014)) * sin(anomaly)
            + (0.019_993 - t * 0.000_101) * sin(2.0 * anomaly)
            + 0.000_289 * sin(3.0 * anomaly);
        let node = (125.04 - 1_934.136 * t).to_radians();
        let apparent_longitude_deg =
            mean_longitude.to_degrees() + centre_deg - 0.005_69 - 0.004_78 * sin(node);
        let obliquity_s = 21.448 - t * (46.815 + t * (0.000_59 - t * 0.001_813));
        let obliquity =
            (23.0 + (26.0 + obliquity_s / 60.0) / 60.0 + 0.002_56 * cos(node)).to_radians();
        let declination = asin(sin(obliquity) * sin(apparent_longitude_deg.to_radians()));
        let y = square(tan(0.5 * obliquity));
        let equation_of_time = y * sin(2.0 * mean_longitude) - 2.0 * eccentricity * sin(anomaly)
            + 4.0 * eccentricity * y * sin(anomaly) * cos(2.0 * mean_longitude)
            - 0.5 * y * y * sin(4.0 * mean_longitude)
            - 1.25 * eccentricity * eccentricity * sin(2.0 * anomaly);
        let true_anomaly = anomaly + centre_deg.to_radians();
        Self {
            apparent_longitude_deg,
            declination_deg: declination.to_degrees(),
            equation_of_time_s: TURN_S_PER_DEG * equation_of_time.to_degrees(),
            distance_au: 1.000_001_018 * (1.0 - eccentricity * eccentricity)
                / (1.0 + eccentricity * cos(true_anomaly)),
        }
    }
}

/// Where the sun stands in the sky.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunPosition {
    /// Height of its centre above the horizon, without refraction [°].
    pub elevation_deg: f64,
    /// Direction, clockwise from north [°], 0 to 360.
    pub azimuth_deg: f64,
}

/// The sun over one water on one date.
///
/// ```
/// use sim::water::{Date, Location, SolarDay};
/// let leicester = Location { latitude_deg: 52.6, longitude_deg: -1.1 };
/// let june = SolarDay {
///     location: leicester,
///     date: Date::new(2026, 6, 21).expect("a day"),
///     utc_offset_s: 3600.0,
/// };
/// let [sunrise_s, sunset_s] = june.sunrise_and_sunset_s().expect("the sun rises");
/// assert!((4.5..5.0).contains(&(sunrise_s / 3600.0)));
/// assert!((21.0..22.0).contains(&(sunset_s / 3600.0)));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SolarDay {
    /// Where the sun is seen from.
    pub location: Location,
    /// Local date.
    pub date: Date,
    /// Local clock time minus universal time, summer time included [s].
    pub utc_offset_s: f64,
}

impl SolarDay {
    /// The sun's coordinates at a clock time [s].
    fn coordinates(&self, clock_s: f64) -> SunCoordinates {
        SunCoordinates::at_julian_day(
            self.date.julian_day() + (clock_s - self.utc_offset_s) / DAY_S,
        )
    }

    /// Where the sun stands at a clock time [s].
    ///
    /// sin h = sin φ sin δ + cos φ cos δ cos H, with the hour angle H from the clock, longitude and equation of time.
    ///
    /// - **Holds for** the sun's centre without refraction, which lifts it by 0.5° at the horizon and less than 0.1°
    ///   above 10°.
    /// - **Source** `meeus-1998` (chapter 13), `noaa-solar`.
    /// - **Checked by** V-202 (positions of a far more exact program).
    #[must_use]
    pub fn position(&self, clock_s: f64) -> SunPosition {
        let sun = self.coordinates(clock_s);
        let solar_s = clock_s - self.utc_offset_s
            + TURN_S_PER_DEG * self.location.longitude_deg
            + sun.equation_of_time_s;
        let hour_angle = (solar_s / TURN_S_PER_DEG - 180.0).to_radians();
        let (sin_lat, cos_lat) = sin_cos(self.location.latitude_deg.to_radians());
        let (sin_dec, cos_dec) = sin_cos(sun.declination_deg.to_radians());
        let sin_elevation = sin_lat * sin_dec + cos_lat * cos_dec * cos(hour_angle);
        let from_south = atan2(
            sin(hour_angle) * cos_dec,
            cos(hour_angle) * sin_lat * cos_dec - sin_dec * cos_lat,
        );
        SunPosition {
            elevation_deg: asin(sin_elevation.clamp(-1.0, 1.0)).to_degrees(),
            azimuth_deg: (from_south.to_degrees() + 180.0).rem_euclid(360.0),
        }
    }

    /// Height of the sun's centre above the horizon at a clock time [°].
    ///
    /// - **Checked by** V-202 (positions of a far more exact program).
    #[must_use]
    pub fn elevation_deg(&self, clock_s: f64) -> f64 {
        self.position(clock_s).elevation_deg
    }

    /// Clock time at which the sun passes the meridian, the noon inside the local date [s].
    ///
    /// - **Source** `noaa-solar`.
    /// - **Checked by** V-203 (printed times).
    #[must_use]
    pub fn noon_s(&self) -> f64 {
        let mean_noon_s = (0.5 * DAY_S + self.utc_offset_s
            - TURN_S_PER_DEG * self.location.longitude_deg)
            .rem_euclid(DAY_S);
        let near_s = mean_noon_s - self.coordinates(mean_noon_s).equation_of_time_s;
        mean_noon_s - self.coordinates(near_s).equation_of_time_s
    }

    /// Clock times, before and after noon, at which the sun's centre passes an elevation [s].
    ///
    /// cos H = (sin h − sin φ sin δ) / (cos φ cos δ), repeated with the sun's coordinates at the time found.
    /// `None` if the sun stays above or below that elevation; [`Self::elevation_deg`] at noon says which.
    ///
    /// - **Holds for** latitudes up to 65°; farther north and south on all but the days on which the sun only just
    ///   reaches the elevation.
    /// - **Source** `meeus-1998` (chapter 15), `noaa-solar`.
    /// - **Checked by** V-203 (printed times), V-204 (the elevation at the times found).
    #[must_use]
    pub fn crossings_s(&self, elevation_deg: f64) -> Option<[f64; 2]> {
        let noon_s = self.noon_s();
        let mean_noon_s = noon_s + self.coordinates(noon_s).equation_of_time_s;
        let sin_elevation = sin(elevation_deg.to_radians());
        let (sin_lat, cos_lat) = sin_cos(self.location.latitude_deg.to_radians());
        let crossing_s = |side: f64| {
            let mut clock_s = noon_s;
            // Each round leaves a few thousandths of the error before it.
            for _ in 0..5 {
                let sun = self.coordinates(clock_s);
                let (sin_dec, cos_dec) = sin_cos(sun.declination_deg.to_radians());
                let cos_hour = (sin_elevation - sin_lat * sin_dec) / (cos_lat * cos_dec);
                if cos_hour.abs() > 1.0 {
                    return None;
                }
                let from_noon_s = TURN_S_PER_DEG * acos(cos_hour).to_degrees();
                clock_s = mean_noon_s - sun.equation_of_time_s + side * from_noon_s;
            }
            Some(clock_s)
        };
        Some([crossing_s(-1.0)?, crossing_s(1.0)?])
    }

    /// Clock times of sunrise and sunset [s]. `None` if the sun does not rise or does not set.
    ///
    /// The upper edge of the disc on a flat horizon, with the usual refraction.
    ///
    /// - **Checked by** V-203 (printed times).
    #[must_use]
    pub fn sunrise_and_sunset_s(&self) -> Option<[f64; 2]> {
        self.crossings_s(SUNRISE_ELEVATION_DEG)
    }

    /// Clock times at which civil twilight begins before sunrise and ends after sunset [s].
    ///
    /// `None` if it lasts all night, or if it never gets that light.
    ///
    /// - **Checked by** V-203 (printed times).
    #[must_use]
    pub fn civil_twilight_s(&self) -> Option<[f64; 2]> {
        self.crossings_s(CIVIL_TWILIGHT_DEG)
    }

    /// Energy of the sun on a level square metre outside the air over the whole date [J/m²].
    ///
    /// (86 400 s/π) S/r² (ω sin φ sin δ + cos φ cos δ sin ω), ω the hour angle of sunset in radians, δ and r at noon.
    ///
    /// - **Source** `allen-1998` (equation 21), `kopp-lean-2011` (S = 1361 W/m²).
    /// - **Checked by** V-205 (a printed example, a sum over the day).
    #[must_use]
    pub fn insolation_j_m2(&self) -> f64 {
        let sun = self.coordinates(self.noon_s());
        let (sin_lat, cos_lat) = sin_cos(self.location.latitude_deg.to_radians());
        let (sin_dec, cos_dec) = sin_cos(sun.declination_deg.to_radians());
        let (up, across) = (sin_lat * sin_dec, cos_lat * cos_dec);
        // At a pole nothing is left of `across`, and the sign of `up` decides between day and night.
        let sunset = acos((-up / across.max(f64::MIN_POSITIVE)).clamp(-1.0, 1.0));
        let flux_w_m2 = SOLAR_CONSTANT_W_M2 / (sun.distance_au * sun.distance_au);
        DAY_S / std::f64::consts::PI * flux_w_m2 * (sunset * up + across * sin(sunset))
    }
}
