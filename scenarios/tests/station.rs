//! Station files: each problem named with its line.

#![allow(clippy::unwrap_used, reason = "a test fails by it")]

use scenarios::station::{Filling, Station, read_text};

const HEADER: &str = "date,tmin[C],tmax[C],rain[mm]\n";

fn read(text: &str, gap: u32) -> Result<Station, String> {
    read_text("days.csv", text, Filling::BySite(gap)).map_err(|faults| faults.to_string())
}

/// The fault of the third line, without its picture.
#[track_caller]
fn fault(second: &str, wanted: &str, remedy: &str) {
    let text = format!("{HEADER}2020-02-27,1,8,0\n{second}\n2020-02-29,1,8,0\n");
    let found = read(&text, 0).unwrap_err();
    assert_eq!(found.lines().next(), Some(format!("days.csv, line 3, column 1: {wanted}").as_str()), "{found}");
    assert_eq!(found.lines().last(), Some(format!("  {remedy}").as_str()), "{found}");
}

#[test]
fn each_problem_of_a_line() {
    fault(
        "2020-02-28,x,8,0",
        "tmin is \"x\", which is not a number",
        "Leave the cell empty where nothing was measured.",
    );
    fault(
        "2020-02-28,1,8",
        "the line has 3 cells, the header 4",
        "Write one cell a column; leave a cell empty where nothing was measured.",
    );
    fault("2020-02-27,1,8,0", "2020-02-27 is there twice", "Keep one line a day.");
    fault("2020-02-26,1,8,0", "2020-02-26 comes after 2020-02-27", "Put the days in order, the oldest first.");
    fault("2020-02-28,9,8,0", "tmin is above tmax", "Are the two columns swapped?");
    fault(
        "2020-02-28,-95,8,0",
        "tmin is -95, which is impossible",
        "It can be -90 to 60 C; is the unit in the header right?",
    );
    fault(
        "2020-02-28,1,8,-2",
        "rain is -2, which is impossible",
        "It can be 0 to 2000 mm; is the unit in the header right?",
    );
    fault(
        "2020-02-28,1,8,nan",
        "rain is nan, which is impossible",
        "It can be 0 to 2000 mm; is the unit in the header right?",
    );
    fault(
        "28/02/2020,1,8,0",
        "\"28/02/2020\" is not a date",
        "Is the day first or the month? Write days as 2027-03-01.",
    );
    fault("2020-02-30,1,8,0", "2020-02-30 does not exist", "February has 29 days.");
    fault(
        "2020-02-28,,8,0",
        "tmin is missing on 2020-02-28",
        "Complete the file, or write fill_gaps = \"1 day\" under [weather] of the site file to have such gaps filled.",
    );
}

#[test]
fn blank_files_and_headers() {
    let example = "Begin with the line date,tmin[C],tmax[C],rain[mm] and write one line a day below it.";
    assert_eq!(read("", 0).unwrap_err(), format!("days.csv: the file is empty\n  {example}"));
    assert!(
        read("2020-02-28,1,8,0\n", 0)
            .unwrap_err()
            .starts_with("days.csv, line 1, column 1: the header line is missing")
    );
    assert!(read(HEADER, 0).unwrap_err().starts_with("days.csv, line 1, column 1: there are no days below the header"));
    let misspelt = read("date,tmin[C],tmax[C],rian[mm]\n", 0).unwrap_err();
    assert!(misspelt.ends_with("Did you mean \"rain[mm]\"?"), "{misspelt}");
    let missing = read("date,tmin[C],tmax[C]\n", 0).unwrap_err();
    assert!(missing.starts_with("days.csv, line 1, column 1: column rain[mm] is missing"), "{missing}");
    let rain_gauge = read("date,rain[mm]\n2020-02-28,3\n", 0).unwrap_err();
    assert!(rain_gauge.contains("If you measure rain only, write into every line"), "{rain_gauge}");
}

#[test]
fn gaps_are_filled_only_where_asked_and_counted() {
    let text = format!("{HEADER}2020-02-27,0,6,3\n2020-03-01,3,12,1\n");
    let refused = read(&text, 1).unwrap_err();
    assert!(
        refused.starts_with("days.csv, line 3, column 1: 2 days are missing or incomplete, 2020-02-28 to 2020-02-29"),
        "{refused}"
    );
    let station = read(&text, 2).unwrap();
    assert_eq!((station.days.len(), station.filled), (4, 2));
    assert_eq!((station.days[1].tmin_c, station.days[2].tmax_c, station.days[1].rain_mm), (1.0, 10.0, 0.0));
    let edge = read(&format!("{HEADER}2020-02-27,,6,3\n2020-02-28,3,12,1\n"), 5).unwrap_err();
    assert!(edge.ends_with("Complete the file: its first and last day cannot be filled."), "{edge}");
}

#[test]
fn no_remedy_for_a_gap_is_refused_in_its_turn() {
    let days = |last: u32| (1..=last).map(|day| format!("2020-01-{day:02},0,6,3\n")).collect::<String>();
    let gap = |left_out: u32| format!("{HEADER}{}2020-01-31,0,6,3\n", days(30 - left_out));
    let told = |text: &str, filling| read_text("days.csv", text, filling).unwrap_err().to_string();
    for left_out in 1..=10 {
        assert!(told(&gap(left_out), Filling::BySite(0)).contains(&format!("write fill_gaps = \"{left_out} day")));
        assert!(told(&gap(left_out), Filling::ByOption(0)).contains(&format!("add --fill-gaps {left_out} to")));
        assert_eq!(read(&gap(left_out), left_out).unwrap().filled, left_out as usize);
    }
    for filling in [Filling::BySite(10), Filling::ByOption(10)] {
        let eleven = told(&gap(11), filling);
        assert!(eleven.contains("at most 10 days are filled") && !eleven.contains("fill_gaps"), "{eleven}");
        assert!(!eleven.contains("fill-gaps"), "{eleven}");
    }
}

#[test]
fn other_units_and_more_columns() {
    let text = "\u{feff}\"date\",tmax[F],tmin[F],rain[in],humidity[%],wind[mph]\r\n2020-02-27,50,32,1,80,\r\n";
    let station = read(text, 0).unwrap();
    let day = &station.days[0];
    assert!(day.tmin_c.abs() < 1e-12 && (day.tmax_c - 10.0).abs() < 1e-12);
    assert_eq!((day.rain_mm, day.humidity_pct, day.wind_m_s), (25.4, Some(80.0), None));
}

#[test]
fn a_file_of_nonsense_is_not_read_to_its_end() {
    let text = format!("{HEADER}{}", "a,b,c,d\n".repeat(100_000));
    let found = read(&text, 0).unwrap_err();
    assert!(found.contains("the rest of the file was not read"));
    assert!(found.lines().count() < 250);
}

/// FAO-56 example 14: 3.2 m/s at 10 m are 2.4 m/s at 2 m; what was measured at 2 m stays.
#[test]
fn wind_is_brought_down_from_10_m() {
    let wind = |header: &str, cell: &str| {
        let text = format!("date,tmin[C],tmax[C],rain[mm],{header}\n2020-02-27,1,8,0,{cell}\n2020-02-28,1,8,0,\n");
        read(&text, 0).map(|station| station.days.iter().map(|day| day.wind_m_s).collect::<Vec<_>>())
    };
    for (header, cell) in [("wind[m/s]", "3.2"), ("wind[km/h]", "11.52"), ("wind[mph]", "7.15819")] {
        let days = wind(header, cell).unwrap();
        assert!((days[0].unwrap() - 2.393).abs() < 1e-3, "{header}: {days:?}");
        assert_eq!(days[1], None);
    }
    assert_eq!(wind("wind_2m[m/s]", "3.2").unwrap(), [Some(3.2), None]);
    let twice = wind("wind[m/s],wind_2m[m/s]", "3.2,2.4").unwrap_err();
    assert!(twice.contains("wind is there twice, at 10 m and at 2 m"), "{twice}");
}
