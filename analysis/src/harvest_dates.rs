//! Harvests on their dates: of every crop and fruit of every plot birds' last day in, the days of picking, and whose rule
//! parts them.

use jiff::civil::Date;
use scenarios::SiteModel;
use scenarios::library::WaitingRule;
use sim_engine::dates::date_of;
use sim_engine::site::{HarvestWindow, Plant};
use sim_engine::waiting::{Picking, pickings};

/// A harvest of a crop or fruit on its dates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HarvestDates<'m> {
    /// Index of the plot.
    pub plot: usize,
    /// What is picked.
    pub plant: Plant,
    /// Name of the crop or canopy.
    pub name: &'m str,
    /// The window it is of: whether it touches the soil, and whether it is of fruit that fell.
    pub window: HarvestWindow,
    /// Last day on which birds may be in; it may lie before the run.
    pub last_bird_day: Date,
    /// Whether that day lies before the run: the gate is shut from its first day on.
    pub shut_from_start: bool,
    /// The keeper's own wait of 0 days: birds may be in while it is picked.
    pub birds_in_while_picked: bool,
    /// First day of picking; it lies before the run where that begins in the middle of it.
    pub first_day: Date,
    /// Last day of picking.
    pub last_day: Date,
    /// Days from the one to the other.
    pub wait_days: u32,
    /// Days the site's rule asks for, where the keeper has not set others for this harvest.
    pub rule_days: u32,
    /// Whose days they are.
    pub set_by: WaitSetBy<'m>,
}

/// Whose days a wait has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WaitSetBy<'m> {
    /// The US organic rule, which stands unless the site says otherwise.
    UsOrganicRule,
    /// The rule of the country the site names.
    Country(&'m WaitingRule),
    /// The site, for all its harvests alike, with its reason where it gives one.
    Site(Option<&'m str>),
    /// The keeper, for this harvest, with the reason where one is given.
    Harvest(Option<&'m str>),
}

/// Every harvest that is picked on a day of the run, plot by plot and by its first day of picking: each year's by itself.
#[must_use]
pub fn harvest_dates(model: &SiteModel) -> Vec<HarvestDates<'_>> {
    (0..model.base.plots.len()).flat_map(|plot| of_plot(model, plot)).collect()
}

fn of_plot(model: &SiteModel, plot: usize) -> Vec<HarvestDates<'_>> {
    let site = &model.base;
    let end = date_of(site.start, site.days.saturating_sub(1));
    let all = pickings(&site.plots[plot], &site.rules, site.start, end).into_iter();
    let mut dates: Vec<HarvestDates<'_>> =
        all.filter(|picking| picking.first <= end).map(|picking| dated(model, plot, &picking)).collect();
    dates.sort_by_key(|harvest| (harvest.first_day, harvest.last_day, harvest.window.windfall));
    dates
}

fn dated<'m>(model: &'m SiteModel, plot: usize, picking: &Picking) -> HarvestDates<'m> {
    HarvestDates {
        plot,
        plant: picking.plant,
        name: model.base.plant_name(picking.plant),
        window: picking.window,
        last_bird_day: picking.last_bird_day(),
        birds_in_while_picked: !picking.keeps_out(),
        shut_from_start: picking.last_bird_day() < model.base.start,
        first_day: picking.first,
        last_day: picking.last,
        wait_days: picking.wait_days,
        rule_days: model.base.rules.waiting_days_by_rule(picking.window.touches_soil),
        set_by: WaitSetBy::of(model, &picking.window),
    }
}

impl<'m> WaitSetBy<'m> {
    /// Whose days the wait before a harvest has.
    #[must_use]
    pub fn of(model: &'m SiteModel, harvest: &HarvestWindow) -> Self {
        let rules = &model.base.rules;
        if let Some(own) = rules.own_wait(harvest) {
            return Self::Harvest(own.reason.as_deref());
        }
        let soil = harvest.touches_soil;
        if rules.waiting_days_by_rule(soil) != model.rule_days(soil) {
            return Self::Site(model.waiting_rule_reason.as_deref());
        }
        model.waiting_rule(soil).map_or(Self::UsOrganicRule, Self::Country)
    }

    /// The keeper's reason, as the file has it.
    #[must_use]
    pub const fn reason(self) -> Option<&'m str> {
        match self {
            Self::Site(reason) | Self::Harvest(reason) => reason,
            Self::UsOrganicRule | Self::Country(_) => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use scenarios::{Library, site_file};

    /// What is read of two beds, trees and these rules, in a run of so many years from a day on.
    fn site(start: &str, years: u32, rules: &str, crops: &str, fruit: &str) -> SiteModel {
        let text = format!(
            "format = 2\nlatitude = \"52 deg\"\n[run]\nstart = {start}\nyears = {years}\n[weather]\nclimate = \"cool-maritime\"\n\
             [yard]\narea = \"40 m2\"\n[birds.hens]\nclass = \"layer\"\nnumber = 8\n[rules]\n{rules}\n\
             [plot.beds]\narea = \"60 m2\"\nsoil = \"loam\"\nbeds = 0.6\ncover = {{ plant = \"mown grass\" }}\n{crops}\n\
             [plot.trees]\narea = \"60 m2\"\nsoil = \"loam\"\ncover = {{ plant = \"mown grass\" }}\n{fruit}\n"
        );
        site_file::read_text("site.toml", &text, &Library::shipped().unwrap(), &|_| Err(String::new())).unwrap()
    }

    fn crop(name: &str, ground: &str, harvest: &str) -> String {
        format!("[[plot.beds.crop]]\ncrop = \"{name}\"\nin_ground = [{ground}]\nharvest = [{harvest}]\n")
    }

    /// Name, birds' last day, first and last day of picking.
    fn told(model: &SiteModel) -> Vec<(&str, [Date; 3])> {
        let days = |one: &HarvestDates<'_>| [one.last_bird_day, one.first_day, one.last_day];
        harvest_dates(model).iter().map(|one| (one.name, days(one))).collect()
    }

    /// Leeks from 15 November to 10 February wait 120 days: 18 July. In a run from 1 January 2027 the first are picked
    /// already; those of the winter after the run begin within it.
    #[test]
    fn a_harvest_over_the_new_year_is_one_and_one_that_goes_on_is_told() {
        let leeks = crop("leek", "\"06-01\", \"02-10\"", "\"11-15\", \"02-10\"");
        let model = site("2027-01-01", 1, "", &leeks, "");
        let winter = |year: i16| [date(year, 7, 18), date(year, 11, 15), date(year + 1, 2, 10)];
        assert_eq!(told(&model), [("leek", winter(2026)), ("leek", winter(2027))]);
        // From 11 February on the first is over.
        assert_eq!(told(&site("2027-02-11", 1, "", &leeks, "")), [("leek", winter(2027))]);
    }

    /// Carrots of 2027 and onions of 2028 in one bed: each once, in its year; 20 July 2028 less 120 days is 22 March,
    /// in a leap year as in another, for no 29 February lies between. Plums of 10 May 2028 less 90: 10 February, a day
    /// later than in 2027, for one does.
    #[test]
    fn a_rotation_has_its_years_and_a_leap_year_its_day() {
        let crops = crop("carrot", "2027-04-01, 2027-10-10", "2027-07-20, 2027-10-10")
            + &crop("onion", "2028-03-25, 2028-08-20", "2028-07-20, 2028-08-20");
        let fruit = "canopy = \"plum trees\"\nfruit_harvest = [\"05-10\", \"05-30\"]\nwindfalls = \"left\"";
        let model = site("2027-01-01", 2, "", &crops, fruit);
        let picked = [
            ("carrot", [date(2027, 3, 22), date(2027, 7, 20), date(2027, 10, 10)]),
            ("onion", [date(2028, 3, 22), date(2028, 7, 20), date(2028, 8, 20)]),
            ("plum trees", [date(2027, 2, 9), date(2027, 5, 10), date(2027, 5, 30)]),
            ("plum trees", [date(2028, 2, 10), date(2028, 5, 10), date(2028, 5, 30)]),
        ];
        assert_eq!(told(&model), picked);
    }

    /// Broad beans stand when the run begins on 20 April: birds' last day, 25 February, lies before it.
    #[test]
    fn a_crop_that_stands_at_the_start_has_its_last_bird_day_before_the_run() {
        let beans = crop("broad bean", "\"03-05\", \"07-12\"", "\"06-25\", \"07-10\"") + "touches_soil = true\n";
        let picked = [("broad bean", [date(2027, 2, 25), date(2027, 6, 25), date(2027, 7, 10)])];
        assert_eq!(told(&site("2027-04-20", 1, "", &beans, "")), picked);
    }

    #[test]
    fn each_wait_tells_whose_days_it_has() {
        let beans = crop("broad bean", "\"03-05\", \"07-12\"", "\"06-25\", \"07-10\"") + "touches_soil = false\n";
        let fruit = |more: &str| format!("canopy = \"plum trees\"\nfruit_harvest = [\"08-01\", \"09-10\"]\n{more}");
        let own = fruit("windfalls = \"cooked\"\nfruit_wait = { days = 30, reason = \"picked by hand\" }");
        let of = |rules: &str, fruit: &str| {
            let model = site("2027-01-01", 1, rules, &beans, fruit);
            let told = |one: &HarvestDates<'_>| (one.wait_days, one.rule_days, format!("{:?}", one.set_by));
            harvest_dates(&model).iter().map(told).collect::<Vec<_>>()
        };
        let us = || "UsOrganicRule".to_owned();
        let hand = "Harvest(Some(\"picked by hand\"))".to_owned();
        assert_eq!(of("", &own), [(90, 90, us()), (30, 90, hand), (120, 120, us())]);
        assert_eq!(of("country = \"India\"", &fruit(""))[0], (90, 90, us()));
        let kingdom = of("country = \"UK\"", &fruit(""));
        assert!(kingdom.iter().all(|(days, _, by)| *days == 123 && by.contains("United Kingdom")), "{kingdom:?}");
        let site = of("waiting_days_other = \"50 days\"\nwaiting_rule_reason = \"peeled\"", &own);
        let peeled = "Site(Some(\"peeled\"))".to_owned();
        assert_eq!((&site[0], site[1].1, &site[2]), (&(50, 50, peeled), 50, &(120, 120, us())));
    }

    /// A wait before windfalls is told with its reason wherever those of one's own are, and raw juice stays warned of.
    #[test]
    fn a_wait_before_windfalls_is_told_as_one_of_its_own() {
        let fruit = "canopy = \"plum trees\"\nfruit_harvest = [\"08-01\", \"09-10\"]\nwindfalls = \"cooked\"\n\
                     windfall_wait = { days = 80, reason = \"boiled for jam.\" }";
        let model = site("2027-01-01", 1, "", "", fruit);
        let own = [" Windfalls of plum trees in trees wait 80 days instead of 120, because: \"boiled for jam\"."];
        assert_eq!(crate::cautions::own_waits(&model), own);
        let lines: Vec<String> = harvest_dates(&model).iter().map(crate::wording::harvest_in_words).collect();
        let fallen = "plum trees, fallen fruit: last day with birds in 13 May 2027, pick from 1 Aug 2027 to 10 Sep 2027 (80 days of your own \
                      instead of 120, because: “boiled for jam”); cook, never raw, never raw juice";
        assert_eq!(lines[1], fallen);
        assert!(lines[0].starts_with("plum trees: last day with birds in 3 May 2027"), "{lines:?}");
    }
}
