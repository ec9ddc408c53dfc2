//! A keeper's practice as rules: it opens the gates that the named kinds it can say open, keeps its own words, and goes to
//! a site file and back without loss.
#![allow(clippy::unwrap_used)] // In tests a fault may end the run; helpers are not marked as tests.

#[path = "common/mod.rs"]
mod common;

use common::{drivers, library, plot, run, site};
use jiff::civil::Date;
use scenarios::practice_text::written;
use scenarios::{SiteModel, site_file, vary};
use sim_engine::dates::days_since_solstice;
use sim_engine::gates::practice::Practice;
use sim_engine::gates::practice::rule::{Looks, Occasion, Rising, Rule, Stay, Unless, Which, YearMark};
use sim_engine::gates::spec::{StrategyKind, StrategySpec};
use sim_engine::gates::{OpenHours, build};
use sim_engine::run::{RunOptions, simulate};
use sim_engine::site::When;

const FRUIT: usize = 0;
const BERRIES: usize = 1;
const VEGETABLES: usize = 2;

/// A fruit plot with a pest, berries and vegetables, under the strategies of a text.
fn garden(strategies: &str) -> SiteModel {
    garden_from("2027-02-01", strategies)
}

fn garden_from(start: &str, strategies: &str) -> SiteModel {
    let plots = [
        plot(
            "fruit",
            300.0,
            5.0,
            "canopy = \"apple trees\"\n[[plot.fruit.pest]]\nspecies = \"apple sawfly\"\nstart = \"5 per m2\"",
        ),
        plot("berries", 80.0, 10.0, "canopy = \"currant bushes\"\nfruit_harvest = [\"07-05\", \"08-05\"]"),
        plot(
            "vegetables",
            60.0,
            15.0,
            "beds = 0.6\n[[plot.vegetables.crop]]\ncrop = \"pea\"\nin_ground = [\"04-01\", \"07-20\"]",
        ),
    ];
    site(start, 3, 8.0, &format!("{}\n{strategies}", plots.concat()))
}

/// The open plots of every day under strategy `which`.
fn open_days(model: &SiteModel, which: usize) -> Vec<(Date, Vec<usize>)> {
    struct Days(Vec<(Date, Vec<usize>)>);
    impl sim_engine::run::recorder::Recorder for Days {
        fn day(&mut self, view: &sim_engine::run::recorder::DayView) {
            let date = view.world.drivers.days[view.day].date;
            self.0.push((date, view.gates.openings.iter().map(|opening| opening.plot).collect()));
        }
    }
    let drivers = drivers(model, &model.base, 1);
    let (mut strategy, mut days) = (build(&model.base, &model.strategies, which), Days(Vec::new()));
    simulate(&model.base, &drivers, strategy.as_mut(), RunOptions::default(), &mut days).unwrap();
    days.0
}

/// Days of a plot.
fn days_in(days: &[(Date, Vec<usize>)], plot: usize) -> Vec<Date> {
    days.iter().filter(|(_, open)| open.contains(&plot)).map(|(date, _)| *date).collect()
}

/// The first strategy of a text opens the same gates as the second, on every day, and some on some.
fn same_days(strategies: &str) {
    let model = garden(strategies);
    let (one, other) = (open_days(&model, 0), open_days(&model, 1));
    for ((date, ours), (_, theirs)) in one.iter().zip(&other) {
        assert_eq!(ours, theirs, "on {date} under {strategies}");
    }
    assert_eq!(one.len(), other.len());
}

#[test]
fn a_practice_without_rules_is_home_for_good_or_every_gate_shut() {
    same_days("[strategy.rules]\nhome = \"yard\"\n[strategy.kind]\nall_shut = {}\n");
    same_days("[strategy.rules]\nhome = \"berries\"\n[strategy.kind]\ncontinuous = { plot = \"berries\" }\n");
}

#[test]
fn a_rule_in_turn_is_a_fixed_turn() {
    for (stay, kind) in [("21 days", ""), ("21 days by area", ", by_area = true")] {
        same_days(&format!(
            "[strategy.rules]\nrule = [{{ where = [\"fruit\", \"berries\", \"vegetables\"], which = \"in turn\", stay = \"{stay}\" }}]\n\
             [strategy.kind]\nfixed_turn = {{ stay = \"21 days\"{kind} }}\n"
        ));
    }
}

#[test]
fn a_rule_by_looks_is_by_eye() {
    same_days(
        "[strategy.rules]\nrule = [{ where = [\"fruit\", \"berries\", \"vegetables\"], which = \"longest rested\", \
         looks = { enter_above = 0.88, leave_below = 0.8 }, stay = \"at most 14 days\", rest = \"28 days\" }]\n\
         [strategy.kind]\nby_eye = { enter_above = 0.88, leave_below = 0.8 }\n",
    );
}

#[test]
fn a_rule_after_harvest_is_between_crops() {
    same_days(
        "[strategy.rules]\nhome = \"fruit\"\n[[strategy.rules.rule]]\nwhere = \"vegetables\"\nwhen = \"after harvest\"\nstay = \"at most 14 days\"\n\
         [strategy.kind]\nbetween_crops = { stay = \"14 days\", else = \"home\" }\n[strategy.home]\ncontinuous = { plot = \"fruit\" }\n",
    );
}

#[test]
fn a_rule_while_a_pest_rises_is_its_date() {
    same_days(
        "[strategy.rules]\nhome = \"vegetables\"\n[[strategy.rules.rule]]\nwhere = \"fruit\"\n\
         while_rising = { pest = \"apple sawfly\", from = \"-60 degree-days\", to = \"80 degree-days\" }\n\
         [strategy.kind]\npest_date = { plot = \"fruit\", species = \"apple sawfly\", from = \"-60 degree-days\", \
         to = \"80 degree-days\", else = \"home\" }\n[strategy.home]\ncontinuous = { plot = \"vegetables\" }\n",
    );
}

#[test]
fn most_is_kept_in_every_calendar_year_and_used_up() {
    for (stay, most) in [("14 days", 42), ("10 days", 25), ("at most 5 days", 12)] {
        let model = garden(&format!(
            "[strategy.rules]\nhome = \"fruit\"\nrule = [{{ where = \"vegetables\", when = \"between crops\", stay = \"{stay}\", \
             rest = \"7 days\", most = \"{most} days a year\" }}]\n"
        ));
        let days = days_in(&open_days(&model, 0), VEGETABLES);
        for year in 2027..=2029 {
            assert_eq!(days.iter().filter(|day| day.year() == year).count(), most, "{stay}, {year}");
        }
    }
}

/// Fourteen days once in each gap between two crops, and not again while it lasts.
#[test]
fn one_stay_for_each_occasion_where_no_rest_is_said() {
    let model =
        garden("[strategy.rules]\nrule = [{ where = \"vegetables\", when = \"between crops\", stay = \"14 days\" }]\n");
    let days = days_in(&open_days(&model, 0), VEGETABLES);
    let gaps: Vec<Date> = days.iter().copied().filter(|day| !days.contains(&day.yesterday().unwrap())).collect();
    assert_eq!(days.len(), 14 * gaps.len());
    // The one at the start, and one when each year's peas are out.
    assert_eq!(gaps.len(), 4, "{gaps:?}");
}

/// 1 December to 31 January is 62 days, whichever year they lie in; both ends count.
#[test]
fn two_dates_run_over_new_year() {
    let model = garden_from(
        "2027-03-01",
        "[strategy.rules]\nhome = \"fruit\"\nrule = [{ where = \"berries\", between = [\"12-01\", \"01-31\"] }]\n",
    );
    let days = open_days(&model, 0);
    let there = days_in(&days, BERRIES);
    assert_eq!(there.len(), 3 * 62);
    assert!(there.iter().all(|day| matches!(day.month(), 12 | 1)));
    assert!(days.iter().all(|(_, open)| open.len() == 1), "home else");
}

/// From the day the trees drop their leaves to the day they break bud, both counted, as the model has it.
#[test]
fn leaf_fall_to_bud_break_is_all_winter() {
    let model = garden(
        "[strategy.rules]\nhome = \"berries\"\nrule = [{ where = \"fruit\", between = [\"leaf fall\", \"bud break\"] }]\n",
    );
    let trees = &model.base.canopies[model.base.plots[FRUIT].canopies[0].canopy].params;
    let (mut bare, mut leafy) = (0, 0);
    for (date, open) in open_days(&model, 0) {
        let day = f64::from(days_since_solstice(date, model.base.place.latitude_deg));
        let winter = day >= trees.leaf_fall.floor() || day <= trees.leaf_out.floor();
        assert_eq!(open.contains(&FRUIT), winter, "{date}");
        if winter { bare += 1 } else { leafy += 1 }
    }
    assert!(bare > 300 && leafy > 300, "{bare} {leafy}");
}

/// Fruit lies from the first day of its fall to the day before the last, as the model has it.
#[test]
fn fruit_on_the_ground_is_its_time() {
    let model = garden("[strategy.rules]\nrule = [{ where = \"fruit\", when = \"fruit on the ground\" }]\n");
    let trees = &model.base.canopies[model.base.plots[FRUIT].canopies[0].canopy].params;
    for (date, open) in open_days(&model, 0) {
        let day = f64::from(days_since_solstice(date, model.base.place.latitude_deg));
        assert_eq!(open.contains(&FRUIT), day >= trees.fruit_from && day < trees.fruit_to, "{date}");
    }
}

/// Never on wet ground, nor after a hot day where nothing gives shade; hours and birds are the rule's.
#[test]
fn unless_keeps_a_rule_silent_and_its_gate_is_as_it_says() {
    let model = garden(
        "[strategy.rules]\nrule = [{ where = \"vegetables\", unless = [\"wet\", \"hotter than 20 C\"], birds = 3, \
         hours = \"last 3 hours\" }]\n",
    );
    let drivers = drivers(&model, &model.base, 1);
    let (mut open, mut kept_in) = (0, 0);
    run(&model.base, &drivers, &model.strategies[0], |view| {
        let seen = &view.world.observed[VEGETABLES];
        let hot = view.day > 0 && drivers.days[view.day - 1].tmax_c > 20.0;
        match view.gates.openings.first() {
            Some(opening) => {
                assert!(!seen.wet && !hot, "day {}", view.day);
                assert_eq!((opening.birds, opening.hours), (Some(3.0), Some(OpenHours::last(3.0))));
                open += 1;
            }
            None if seen.shut.is_none() => {
                assert!(seen.wet || hot, "day {}", view.day);
                kept_in += 1;
            }
            None => {}
        }
    });
    assert!(open > 100 && kept_in > 50, "{open} {kept_in}");
}

/// Birds go in where the cover is best, and come again only after the rest.
#[test]
fn the_best_cover_goes_first_and_rests_are_kept() {
    let model = garden(
        "[strategy.rules]\nrule = [{ where = [\"berries\", \"fruit\"], which = \"best cover\", stay = \"10 days\", rest = \"28 days\" }]\n",
    );
    let drivers = drivers(&model, &model.base, 1);
    let mut entered = 0;
    run(&model.base, &drivers, &model.strategies[0], |view| {
        let Some(opening) = view.gates.openings.first() else { return };
        let seen = &view.world.observed;
        if seen[opening.plot].open {
            return;
        }
        let other = if opening.plot == FRUIT { BERRIES } else { FRUIT };
        let ready = seen[other].shut.is_none() && seen[other].days_at_rest >= 28.0;
        assert!(!ready || seen[opening.plot].cover >= seen[other].cover, "day {}", view.day);
        assert!(seen[opening.plot].days_at_rest >= 28.0);
        entered += 1;
    });
    assert!(entered > 30, "{entered}");
}

/// A stay further down goes on under a rule further up, unless that one comes at once.
#[test]
fn only_at_once_ends_a_stay_further_down() {
    let days = |at_once: &str| {
        let model = garden(&format!(
            "[strategy.rules]\n[[strategy.rules.rule]]\nwhere = \"berries\"\nbetween = [\"02-10\", \"02-20\"]{at_once}\n\
             [[strategy.rules.rule]]\nwhere = \"fruit\"\nbetween = [\"02-01\", \"02-05\"]\nstay = \"14 days\"\n"
        ));
        let days = open_days(&model, 0);
        [FRUIT, BERRIES].map(|plot| days_in(&days[..60], plot).iter().map(|day| day.day()).collect::<Vec<i8>>())
    };
    assert_eq!(days(""), [(1..=14).collect::<Vec<i8>>(), (15..=20).collect()]);
    assert_eq!(days("\nat_once = true"), [(1..=9).collect::<Vec<i8>>(), (10..=20).collect()]);
}

/// Peas keep the vegetables shut: the rule has no plot that may be open, and the next one speaks; where none does, the yard.
#[test]
fn a_rule_without_an_open_plot_falls_to_the_next() {
    let model = garden(
        "[strategy.rules]\nrule = [{ where = \"vegetables\" }, { where = \"fruit\", between = [\"04-01\", \"05-31\"] }]\n",
    );
    for (date, open) in open_days(&model, 0) {
        let expected = match date.month() {
            4 | 5 => vec![FRUIT],
            6 => vec![],
            1..=3 | 8..=12 => vec![VEGETABLES],
            _ => continue,
        };
        assert_eq!(open, expected, "{date}");
    }
}

/// "One gate always open; the fruit plot is home; vegetables for a fortnight between crops, six weeks a year at most; berries
/// all winter; rest when the ground looks worn", in eight lines.
const MISSION: &str = r#"[strategy.our-practice]
home = "fruit"
rule = [
  { where = "vegetables", when = "between crops", stay = "14 days", rest = "14 days", most = "42 days a year" },
  { where = "berries", between = ["leaf fall", "bud break"] },
  { where = ["fruit", "berries"], which = "longest rested", looks = { enter_above = 0.85, leave_below = 0.7 },
    stay = "at most 14 days", rest = "28 days" },
]"#;

#[test]
fn the_practice_of_a_keeper_in_eight_lines() {
    assert_eq!(MISSION.lines().count(), 8);
    let model = garden(MISSION);
    let days = open_days(&model, 0);
    assert!(days.iter().all(|(_, open)| open.len() == 1), "one gate is always open");
    for year in 2027..=2029 {
        let in_year = |plot| days_in(&days, plot).iter().filter(|day| day.year() == year).count();
        assert!(in_year(VEGETABLES) <= 42 && in_year(VEGETABLES) >= 28, "{}", in_year(VEGETABLES));
        assert!(in_year(FRUIT) > in_year(BERRIES) && in_year(BERRIES) > 60, "{} {}", in_year(FRUIT), in_year(BERRIES));
    }
    let drivers = drivers(&model, &model.base, 1);
    let StrategyKind::Practice { home, rules } = &model.strategies[0].kind else { panic!() };
    let mut practice = Practice::new(&model.base, *home, rules);
    simulate(&model.base, &drivers, &mut practice, RunOptions::default(), &mut ()).unwrap();
    assert_eq!(practice.tally().mornings() as usize, model.base.days, "every morning somebody speaks");
    assert_eq!(practice.tally().rules[0].spoke as usize, days_in(&days, VEGETABLES).len());
}

/// Any number in a rule can be varied.
#[test]
fn every_number_of_a_rule_has_a_path() {
    let model_text = format!(
        "format = 2\n{MISSION}\n[strategy.hot]\nrule = [{{ where = \"fruit\", unless = [\"wet\", \"hotter than 27 C\"] }}]\n"
    );
    let numbers = vary::Template::new(&model_text);
    for path in ["1.stay", "1.rest", "1.most", "3.looks.enter_above", "3.looks.leave_below", "3.stay", "3.rest"] {
        numbers.knob(&format!("strategy.our-practice.rule.{path}")).unwrap();
    }
    let stay = numbers.knob("strategy.our-practice.rule.3.stay").unwrap();
    let heat = numbers.knob("strategy.hot.rule.1.unless.2").unwrap();
    let varied = numbers.text(&[(&stay, 9.0), (&heat, 31.0)]);
    assert!(varied.contains("\"at most 9 days\"") && varied.contains("\"hotter than 31 C\""), "{varied}");
}

/// Numbers without pattern, the same every time (Park and Miller, 1988).
struct Dice(u64);

impl Dice {
    fn roll(&mut self, below: u64) -> u64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 % below
    }

    fn some<T>(&mut self, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        (self.roll(2) == 0).then(|| make(self))
    }

    fn of<T: Copy>(&mut self, words: &[(&str, T)]) -> T {
        words[self.roll(words.len() as u64) as usize].1
    }

    fn day(&mut self) -> YearMark {
        YearMark::Day(When::Yearly { month: 1 + self.roll(12) as i8, day: 1 + self.roll(28) as i8 })
    }

    fn rule(&mut self) -> Rule {
        let days = |dice: &mut Self| 1.0 + dice.roll(200) as f64 / 4.0;
        let mut rule = Rule::of(match self.roll(3) {
            0 => vec![BERRIES],
            1 => vec![BERRIES, FRUIT],
            _ => vec![FRUIT],
        });
        rule.which = self.of(&Which::WORDS);
        // Fruit plots here have no beds, and only berries are picked.
        rule.when = self.some(|_| Occasion::FruitOnTheGround).filter(|_| rule.plots == [FRUIT]);
        rule.between = self.some(|dice| match dice.roll(2) {
            0 => (dice.day(), dice.day()),
            _ => (YearMark::LeafFall, YearMark::BudBreak),
        });
        rule.rising = self.some(|dice| {
            let from_dd = dice.roll(200) as f64 - 150.5;
            Rising { pest: 0, from_dd, to_dd: from_dd + 1.0 + dice.roll(100) as f64 / 3.0 }
        });
        rule.looks = self.some(|dice| {
            let leave_below = dice.roll(1000) as f64 / 1001.0;
            Looks { enter_above: leave_below + (1.0 - leave_below) / 7.0, leave_below }
        });
        rule.unless = match self.roll(3) {
            0 => vec![],
            1 => vec![Unless::Frozen, Unless::Hotter(20.0 + self.roll(100) as f64 / 7.0)],
            _ => vec![Unless::Wet, Unless::Snow],
        };
        rule.stay = Some(Stay { days: days(self), at_most: self.roll(2) == 0, by_area: self.roll(2) == 0 });
        rule.rest_days = self.some(days);
        rule.most_days = self.some(|dice| 60.0 + days(dice));
        rule.birds = self.some(|dice| 1.0 + dice.roll(8) as f64);
        rule.hours = self.some(|dice| OpenHours::last(0.5 + dice.roll(10) as f64 / 2.0));
        rule.at_once = self.roll(2) == 0;
        rule
    }
}

#[test]
fn rules_go_to_a_site_file_and_back_without_loss() {
    let mut dice = Dice(2027);
    for round in 0..100 {
        let rules: Vec<Rule> = (0..1 + dice.roll(4)).map(|_| dice.rule()).collect();
        let home = dice.some(|_| FRUIT);
        let text = written("ours", home, &rules, &["fruit", "berries", "vegetables"], &["apple sawfly"]);
        let model = garden(&text);
        assert_eq!(model.strategies[0].kind, StrategyKind::Practice { home, rules }, "round {round}\n{text}");
    }
}

/// What is said of a rule that cannot be read: place, fault and a whole example.
#[test]
fn faults_of_rules_say_what_to_write() {
    let text = |rule: &str| {
        let plots = [plot("fruit", 300.0, 5.0, "canopy = \"apple trees\""), plot("meadow", 100.0, 9.0, "")].concat();
        let head = "format = 2\nlatitude = \"53 deg\"\n[run]\nstart = 2027-02-01\n[weather]\nclimate = \"cool-maritime\"\n\
                    [yard]\narea = \"45 m2\"\n[birds.flock]\nclass = \"layer\"\nnumber = 8\n";
        let text = format!("{head}{plots}\n[strategy.ours]\n{rule}\n");
        site_file::read_text("site.toml", &text, library(), &|_| Err("none".into())).unwrap_err().to_string()
    };
    for (rule, fault, remedy) in [
        ("rule = [{ stay = \"14 days\" }]", "rule 1 says no place", "where = \"vegetables\", when = \"between crops\""),
        ("rule = []", "rule is an empty list", "rule = [{ where = "),
        ("rule = [{ where = \"fruti\" }]", "there is no plot \"fruti\"", "Did you mean \"fruit\"?"),
        ("rule = [{ where = \"meadow\", when = \"between crops\" }]", "meadow has no crops", "between = ["),
        (
            "rule = [{ where = \"meadow\", between = [\"leaf fall\", \"bud break\"] }]",
            "meadow has no trees",
            "give dates",
        ),
        (
            "rule = [{ where = \"fruit\", between = [\"first picking\", \"11-01\"] }]",
            "fruit has no harvest",
            "give dates",
        ),
        (
            "rule = [{ where = \"fruit\", between = [\"leaffall\", \"bud break\"] }]",
            "between cannot be \"leaffall\"",
            "leaf fall",
        ),
        ("rule = [{ where = \"fruit\", between = [2027-11-01, 2028-03-01] }]", "2027-11-01", "11-01"),
        ("rule = [{ where = \"fruit\", stay = 14 }]", "stay is not text in quotes", "stay = \"at most 14 days\""),
        ("rule = [{ where = \"fruit\", most = \"42 days\" }]", "most does not say of what time", "42 days a year"),
        ("rule = [{ where = \"fruit\", unless = [\"windy\"] }]", "unless cannot be \"windy\"", "hotter than 27 C"),
        (
            "rule = [{ where = \"fruit\", looks = { enter_above = 0.6, leave_below = 0.8 } }]",
            "leave_below 0.8 is above",
            "looks = {",
        ),
        ("rule = [{ where = \"fruit\", which = \"in turn\" }]", "in turn and says no stay", "stay = \"21 days\""),
        (
            "rule = [{ where = \"fruit\", stay = \"14 days\", most = \"7 days a year\" }]",
            "may have 7 a year",
            "42 days a year",
        ),
        ("rule = [{ where = \"fruit\", stey = \"14 days\" }]", "has no key \"stey\"", "Did you mean \"stay\"?"),
        ("home = \"fruti\"", "there is no plot \"fruti\"", "Did you mean \"fruit\"?"),
        ("home = \"fruit\"\nall_open = {}", "home goes with rules", "[[strategy.NAME.rule]]"),
    ] {
        let said = text(rule);
        assert!(said.contains(fault) && said.contains(remedy), "{rule}:\n{said}");
    }
}

/// A gate by the list of a practice is a value: the run and its copy end alike.
#[test]
fn a_practice_is_the_same_every_time() {
    let model = garden(MISSION);
    assert_eq!(open_days(&model, 0), open_days(&model, 0));
    let spec: &StrategySpec = &model.strategies[0];
    let drivers = drivers(&model, &model.base, 2);
    let mut moves = 0;
    run(&model.base, &drivers, spec, |view| moves += view.gates.moves);
    assert!(moves > 10, "{moves}");
}
