//! Latitude, elevation, clock and climate that do not fit each other.

use super::site_view::StandingCropPlan;
use super::typical::dates;
use super::{SiteView, Threshold, Warning, tidy, warning};
use crate::site_file::weather::TROPICS_DEG;
use crate::weather_source::WeatherSource;

/// A crop that wants warmth, by its best temperature.
const WARM_CROP: Threshold = Threshold::new(22.0, "C", "the library's best temperatures; the line is from memory");
/// How much warmer the other half of the year must be for it.
const OTHER_HALF: Threshold = Threshold::new(5.0, "C warmer", "from memory");

/// Warm crops in the cold half of the year: the sign of the latitude, or the dates, are turned. Near the equator the sign
/// turns no months.
pub(super) fn hemisphere(view: &SiteView<'_>) -> Option<Warning> {
    (view.site.place.latitude_deg.abs() >= TROPICS_DEG).then_some(())?;
    let other = view.typical.turned();
    let warm = |crop: &&StandingCropPlan<'_>| {
        view.site.crops.get(crop.plan.crop).is_some_and(|crop| crop.params.best_temperature >= WARM_CROP.value)
    };
    let crops = view.crops();
    let crops = crops.iter().filter(warm).filter_map(|crop| Some((crop.name, dates((crop.plan.from, crop.plan.to))?)));
    let crops: Vec<_> = crops.collect();
    let turned = |from, to| other.mean_between_c(from, to) - view.typical.mean_between_c(from, to) >= OTHER_HALF.value;
    crops.iter().all(|(_, (from, to))| turned(*from, *to)).then_some(())?;
    let (first, _) = crops.first()?;
    let latitude = view.site.place.latitude_deg;
    warning(
        "latitude",
        format!("{first} stands in the cold half of the year"),
        format!("at {} degrees {} summer is the other half", tidy(latitude.abs()), side(latitude)),
        format!(
            "Did you mean latitude = \"{} deg\"? South is negative. Else change the crop's dates.",
            tidy(-latitude)
        ),
    )
}

fn side(latitude_deg: f64) -> &'static str {
    if latitude_deg < 0.0 { "south" } else { "north" }
}

/// Difference of January and July by which a station's hemisphere can be told.
const SEASONS: Threshold = Threshold::new(4.0, "C", "from memory");

/// A station whose summer is the other hemisphere's.
pub(super) fn station_turned(view: &SiteView<'_>) -> Option<Warning> {
    let (WeatherSource::Fitted { file, .. } | WeatherSource::Years { file, .. }) = &view.model.weather else {
        return None;
    };
    let latitude = view.site.place.latitude_deg;
    let warmer_in_july = view.typical.mean_c(6) - view.typical.mean_c(0);
    let turned = (warmer_in_july > 0.0) != (latitude >= 0.0);
    (turned && warmer_in_july.abs() >= SEASONS.value).then_some(())?;
    let warm = if warmer_in_july > 0.0 { "July" } else { "January" };
    warning(
        "latitude",
        format!("the latitude is {}", side(latitude)),
        format!("{file} is warmest in {warm}"),
        format!("Did you mean latitude = \"{} deg\"? South is negative.", tidy(-latitude)),
    )
}

/// Hours a clock may differ from the sun's; common practice (time zones reach 2 to 3 hours, with summer time).
const CLOCK: Threshold = Threshold::new(3.5, "h", "common practice, no source");
const DEGREES_AN_HOUR: f64 = 15.0;

/// Clock and longitude that belong to different parts of the earth.
pub(super) fn offset(view: &SiteView<'_>) -> Option<Warning> {
    let longitude = view.model.longitude_deg?;
    let clock = view.model.utc_offset_h;
    let apart = |longitude: f64| (longitude / DEGREES_AN_HOUR - clock).abs();
    (apart(longitude) > CLOCK.value && apart(longitude) < 24.0 - CLOCK.value).then_some(())?;
    let remedy = if apart(-longitude) <= CLOCK.value {
        format!("Did you mean longitude = \"{} deg\"? West is negative.", tidy(-longitude))
    } else {
        format!("Did you mean utc_offset = \"{} h\"?", (longitude / DEGREES_AN_HOUR).round())
    };
    let what = format!("a clock {} h from UTC at longitude {}", tidy(clock), tidy(longitude));
    warning("longitude", what, format!("sun and clock would be more than {CLOCK} apart"), remedy)
}

/// Elevation above which few gardens lie.
const HIGH: Threshold = Threshold::new(2_000.0, "m", "from memory");

/// Very high ground, which may be feet.
pub(super) fn high(view: &SiteView<'_>) -> Option<Warning> {
    let elevation = tidy(HIGH.over(view.site.place.elevation_m)?);
    (!view.in_us_units("elevation")).then_some(())?;
    let feet = format!("Did you mean \"{elevation} ft\"? If it is metres, leave it.");
    warning("elevation", format!("{elevation} m is very high for a garden"), format!("few lie above {HIGH}"), feet)
}

/// Latitude below which the year has no winter and summer as the library counts them.
const TROPICS: Threshold = Threshold::new(15.0, "degrees", "from memory");

/// A place without the seasons the library's dates hang on.
pub(super) fn tropics(view: &SiteView<'_>) -> Option<Warning> {
    let latitude = view.site.place.latitude_deg;
    TROPICS.under(latitude.abs())?;
    warning(
        "latitude",
        format!("{} degrees is close to the equator", tidy(latitude)),
        format!("below {TROPICS} there is no winter to count from"),
        "Correct it if a digit is missing. If you do live there, leaf-out, pests and dates of the library will not fit.",
    )
}

/// Degrees of latitude a climate may be moved; from memory.
const MOVED: Threshold = Threshold::new(12.0, "degrees", "from memory");

/// What helps where no climate of the library fits.
const OWN_WEATHER: &str = "Give your own weather, station = \"my-station.csv\", or a climate of your own: hensward sources \"subtropical\" --export writes one out; paste it into the site file, rename it, set its latitude_hint, and change its months, January first.";

/// A climate made for quite another latitude.
pub(super) fn climate(view: &SiteView<'_>) -> Option<Warning> {
    let (name, made_for) = view.climate()?;
    let latitude = view.site.place.latitude_deg.abs();
    let apart = |other: f64| (other.abs() - latitude).abs();
    MOVED.over(apart(made_for))?;
    let all = view.own.climates().chain(view.library.climates());
    let nearer = all
        .filter(|(_, climate)| apart(climate.latitude_deg) <= MOVED.value)
        .min_by(|a, b| apart(a.1.latitude_deg).total_cmp(&apart(b.1.latitude_deg)));
    let meant = nearer.map_or(String::new(), |(near, _)| format!("Did you mean climate = \"{near}\"? "));
    warning(
        "weather.climate",
        format!("climate \"{name}\" at {} degrees", tidy(latitude)),
        format!("it is made for about {} degrees, more than {MOVED} away", tidy(made_for.abs())),
        format!("{meant}{OWN_WEATHER}"),
    )
}

#[cfg(test)]
mod tests {
    use crate::library::Library;
    use crate::warnings::typical::Typical;

    #[test]
    fn a_turned_year_is_half_a_year_away() {
        let library = Library::shipped().unwrap();
        let typical = Typical::of_climate(&library.climate("continental").unwrap().climate);
        assert_eq!(typical.turned().mean_c(0), typical.mean_c(6));
        assert!(typical.mean_c(6) - typical.mean_c(0) > 15.0);
    }
}
