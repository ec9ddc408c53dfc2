//! What is doubted of a station's days as a whole: a wrong unit in the header makes a climate that is nowhere.

use super::columns::{StationColumn, StationQuantity};
use crate::diagnose::{FaultPage, Severity};
use sim_engine::weather::DayWeather;

/// Most rain a year anywhere: 11,871 mm at Mawsynram (World Meteorological Organization), and a little more.
const MOST_RAIN_MM: f64 = 12_500.0;
/// Rain a year above which a unit is doubted (from memory: few gardens have more than half of that).
const MUCH_RAIN_MM: f64 = 6_000.0;
/// Rain a year below which inches are suspected under mm (from memory: nobody gardens on less without water from elsewhere).
const LITTLE_RAIN_MM: f64 = 100.0;
/// Mean temperatures of a year outside of which nobody lives: 34.6 C at Dallol, the hottest place (from memory), and well below any town.
const MEAN_C: (f64, f64) = (-25.0, 36.0);
/// The hottest day of a place with gardens is warmer (from memory).
const HOTTEST_C: f64 = 12.0;
/// Nights of frost a year in no garden (from memory).
const FROST_NIGHTS: f64 = 330.0;
/// Days below which a year cannot be judged.
const A_YEAR_D: usize = 330;

/// Notes what is doubted, and errors where the climate is impossible; whether it is possible.
pub(super) fn whole(page: FaultPage<'_>, header: usize, columns: &[StationColumn], days: &[DayWeather]) -> bool {
    if days.len() < A_YEAR_D {
        return true;
    }
    let unit = |what, engine: &'static str, other: &'static str| {
        let own = columns.iter().any(|column| column.what == what && column.factor == 1.0);
        if own { (engine, other) } else { (other, engine) }
    };
    let (mm, inches) = unit(StationQuantity::Rain, "mm", "in");
    let (c, f) = unit(StationQuantity::Tmin, "C", "F");
    let rain = format!("The header says rain[{mm}]: are they {inches}?");
    let warmth = format!("The header says tmin[{c}],tmax[{c}]: are they {f}?");
    let years = days.len() as f64 / 365.25;
    let rain_mm = days.iter().map(|day| day.rain_mm).sum::<f64>() / years;
    let mean_c = days.iter().map(DayWeather::tmean_c).sum::<f64>() / days.len() as f64;
    let hottest_c = days.iter().map(|day| day.tmax_c).fold(f64::MIN, f64::max);
    let frost = days.iter().filter(|day| day.tmin_c < 0.0).count() as f64 / years;
    let note = |severity, message: String, remedy: &str| page.note(severity, page.source.line(header), message, remedy);
    let mut possible = true;
    if rain_mm > MOST_RAIN_MM {
        note(Severity::Error, format!("{rain_mm:.0} mm of rain a year are more than fall anywhere"), &rain);
        possible = false;
    } else if !(LITTLE_RAIN_MM..=MUCH_RAIN_MM).contains(&rain_mm) {
        note(Severity::Unusual, format!("{rain_mm:.0} mm of rain a year"), &rain);
    }
    if mean_c < MEAN_C.0 || mean_c > MEAN_C.1 {
        note(Severity::Error, format!("a mean of {mean_c:.1} C over the year is found nowhere people live"), &warmth);
        possible = false;
    } else if hottest_c < HOTTEST_C {
        note(Severity::Unusual, format!("the hottest day has {hottest_c:.1} C"), &warmth);
    } else if frost > FROST_NIGHTS {
        note(Severity::Unusual, format!("{frost:.0} nights of frost a year"), &warmth);
    }
    possible
}

#[cfg(test)]
mod tests {
    use crate::station::{Filling, read_text};
    use jiff::civil::date;

    const NONE: Filling = Filling::BySite(0);

    /// A year of days under a header: lowest, highest temperature and rain of each.
    fn year(header: &str, tmin: f64, tmax: f64, rain: f64) -> String {
        let days = (0..365).map(|day| date(2025, 1, 1).checked_add(jiff::Span::new().days(day)).unwrap());
        let line = |day| format!("{day},{tmin},{tmax},{rain}\n");
        format!("{header}\n{}", days.map(line).collect::<String>())
    }

    #[test]
    fn wrong_units_are_doubted_with_the_header_they_stand_in() {
        let (c, f, mixed) =
            ("date,tmin[C],tmax[C],rain[mm]", "date,tmin[F],tmax[F],rain[in]", "date,tmin[F],tmax[C],rain[mm]");
        let told = |text: String| match read_text("s.csv", &text, NONE) {
            Ok(station) => station.doubts.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"),
            Err(faults) => format!("refused: {faults}"),
        };
        assert_eq!(told(year(c, 6.0, 14.0, 2.0)), "");
        assert_eq!(told(year(f, 43.0, 57.0, 0.08)), "");
        let cases = [
            (year("date,tmin[C],tmax[C],rain[in]", 6.0, 14.0, 2.0), "refused: s.csv, line 1", "rain[in]: are they mm?"),
            (year(c, 6.0, 14.0, 0.08), "unusual: 29 mm", "rain[mm]: are they in?"),
            (
                year("date,tmin[F],tmax[F],rain[mm]", 6.0, 14.0, 2.0),
                "unusual: the hottest day has -10.0 C",
                "tmax[F]: are they C?",
            ),
            (year(c, 43.0, 57.0, 2.0), "refused", "tmax[C]: are they F?"),
            (year(mixed, 6.0, 14.0, 2.0), "different units", "both in C or both in F"),
        ];
        for (text, fault, remedy) in cases {
            let told = told(text);
            assert!(told.contains(fault) && told.contains(remedy), "{told}");
        }
    }

    #[test]
    fn other_ways_of_writing_a_table_are_read_where_they_are_plain() {
        let want = read_text("s.csv", "date,tmin[C],tmax[C],rain[mm]\n2025-01-02,1.5,4,0\n", NONE).unwrap().days;
        for text in [
            "Date;Tmin [°C];tmax[°C];rain[mm]\n2025-01-02;1,5;4;0\n",
            "date\ttmin[C]\ttmax[C]\train[mm]\n2025/1/2\t1.5\t4\t0\n",
            "\u{feff}date,tmin[C],tmax[C],rain[mm]\r\n02.01.2025,1.5,4,0\r\n",
        ] {
            assert_eq!(read_text("s.csv", text, NONE).unwrap().days, want, "{text}");
        }
        for (text, remedy) in [
            ("date,tmin[C],tmax[C],rain[mm]\n01/02/2025,1,4,0\n", "Is the day first or the month?"),
            ("date,tmin[C],tmax[C],rain[mm]\n2025-01-02,1,5,4,0\n", "semicolons"),
        ] {
            let faults = read_text("s.csv", text, NONE).unwrap_err().to_string();
            assert!(faults.contains(remedy), "{faults}");
        }
    }
}
