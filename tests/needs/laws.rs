//! Needs and what must hold for every animal.

use super::{cow, group};
use jiff::civil::{Date, date};
use overwinter::feed::energy::neg_mcal_per_kg;
use overwinter::herd::{AnimalClass, Coat, Group, MonthWeather, Period, Place, Sex};
use overwinter::need::condition::Edition;
use overwinter::need::energy::{MaintenanceTerms, maintenance_nem_mcal};
use overwinter::need::intake::{Curve, meet};
use overwinter::need::{Needs, cold, condition, growth, intake, mean_needs, target};
use overwinter::quantity::{KM_PER_MILE, c_from_f, kg_from_lb};

/// One of every class that is given a ration, in the weather of the High Plains.
fn every_class() -> Vec<Group> {
    let calving = Some(date(2027, 2, 15));
    let mature = kg_from_lb(1200.0);
    vec![
        Group { condition: 5.5, ..cow(mature, 9.0, 37.0) },
        Group { calving: None, ..cow(mature, 0.0, 37.0) },
        Group {
            mature_weight_kg: mature,
            calving,
            peak_milk_kg: 7.0,
            ..group(AnimalClass::FirstCalfCow, kg_from_lb(1030.0))
        },
        Group {
            mature_weight_kg: mature,
            calving,
            peak_milk_kg: 6.5,
            ..group(AnimalClass::BredHeifer, kg_from_lb(900.0))
        },
        Group {
            mature_weight_kg: mature,
            weight_wanted_kg: Some((0.60 * mature, date(2027, 5, 1))),
            under_a_year: true,
            ..group(AnimalClass::ReplacementHeifer, kg_from_lb(520.0))
        },
        Group {
            sex: Sex::Steer,
            mature_weight_kg: kg_from_lb(1300.0),
            gain_kg_per_day: Some(0.8),
            under_a_year: true,
            ..group(AnimalClass::Stocker, kg_from_lb(480.0))
        },
        Group {
            sex: Sex::Bull,
            mature_weight_kg: kg_from_lb(1900.0),
            gain_kg_per_day: Some(0.9),
            ..group(AnimalClass::YoungBull, kg_from_lb(900.0))
        },
        Group { sex: Sex::Bull, ..group(AnimalClass::Bull, kg_from_lb(1900.0)) },
    ]
}

const START: Date = date(2026, 11, 15);

fn period(from: Date, to: Date) -> Period {
    Period { label: from.to_string(), from, to }
}

fn place(mean_c: f64, wind_kmh: f64) -> Place {
    Place { weather: [Some(MonthWeather { mean_c, wind_kmh }); 12], ..Place::default() }
}

/// Everything that is a plain mean over days.
fn linear_parts(needs: &Needs) -> Vec<f64> {
    let (e, grams) = (&needs.energy, [&needs.mp, &needs.ca, &needs.p]);
    let mut parts = vec![
        e.maintenance_nem_mcal,
        e.activity_nem_mcal,
        e.cold_nem_mcal,
        e.pregnancy_nem_mcal,
        e.milk_nem_mcal,
        e.condition_nem_mcal,
        needs.neg_mcal,
        needs.cp_g,
        needs.weight_kg,
        needs.gain_kg,
        needs.milk_kg,
        needs.water_gal,
        needs.cold_uncapped_nem_mcal,
        needs.milking_share,
        needs.last_third_share,
        needs.weather_share,
    ];
    parts.extend(grams.iter().flat_map(|g| [g.maintenance_g, g.pregnancy_g, g.milk_g, g.gain_g]));
    parts
}

#[test]
fn the_mean_over_a_split_period_is_the_weighted_mean() {
    let (from, cut, to) = (date(2026, 12, 10), date(2027, 2, 8), date(2027, 3, 20));
    let place = Place { acclimatization: true, ..place(-8.0, 20.0) };
    for group in every_class() {
        let group = Group { condition_wanted: Some((4.5, date(2027, 3, 1))), activity_share: 0.1, ..group };
        let needs = |from, to| linear_parts(&mean_needs(&group, &period(from, to), &place, START, None));
        let (first, second) = (period(from, cut).days(), period(cut, to).days());
        let whole = needs(from, to);
        for ((one, other), whole) in needs(from, cut).iter().zip(needs(cut, to)).zip(whole) {
            let weighted = (one * f64::from(first) + other * f64::from(second)) / f64::from(first + second);
            assert!((weighted - whole).abs() < 1e-9 * whole.abs().max(1.0), "{:?}: {weighted} {whole}", group.class);
        }
    }
}

#[test]
fn every_class_gets_finite_needs_all_winter() {
    for group in every_class() {
        for month in [date(2026, 12, 1), date(2027, 1, 1), date(2027, 2, 1), date(2027, 3, 1)] {
            let to = month + jiff::Span::new().months(1);
            let needs = mean_needs(&group, &period(month, to), &place(4.5, 20.0), START, None);
            let all = [needs.dmi_kg, needs.tdn_pct, needs.nem_mcal_per_kg, needs.vitamin_a_iu, needs.mcal_per_score];
            for value in linear_parts(&needs).into_iter().chain(all) {
                assert!(value.is_finite() && value >= 0.0, "{:?}", group.class);
            }
            let pct_of_weight = 100.0 * needs.dmi_kg / needs.weight_kg;
            assert!((1.5..3.5).contains(&pct_of_weight), "{:?} eats {pct_of_weight} %", group.class);
            assert!((40.0..75.0).contains(&needs.tdn_pct), "{:?}: {} % TDN", group.class, needs.tdn_pct);
            assert!(!needs.intake_at_bound, "{:?}", group.class);
            assert_eq!(needs.neg_mcal > 0.0, group.class.grows(), "{:?}", group.class);
        }
    }
}

#[test]
fn colder_or_windier_never_needs_less() {
    let december = period(date(2026, 12, 1), date(2027, 1, 1));
    for group in every_class() {
        for wind_kmh in [0.0, 10.0, 20.0, 40.0] {
            let mut before = 0.0;
            for mean_c in (-25..=20).rev().map(f64::from) {
                let at = |c, wind| mean_needs(&group, &december, &place(c, wind), START, None);
                let needs = at(mean_c, wind_kmh);
                assert!(needs.cold_uncapped_nem_mcal >= before, "{:?} at {mean_c} °C", group.class);
                assert!(at(mean_c, wind_kmh + 5.0).cold_uncapped_nem_mcal >= needs.cold_uncapped_nem_mcal);
                let maintenance = needs.energy.maintenance_nem_mcal;
                let capped = needs.cold_uncapped_nem_mcal.min(cold::MOST_SHARE * maintenance);
                assert!(needs.energy.cold_nem_mcal <= capped + 1e-9);
                before = needs.cold_uncapped_nem_mcal;
            }
            assert!(before > 0.0, "{:?} is never cold", group.class);
        }
    }
}

#[test]
fn without_weather_no_cold_is_counted_and_it_is_said() {
    let cow = cow(545.0, 9.0, 37.0);
    let mut place = place(-20.0, 20.0);
    place.weather[0] = None;
    let needs = mean_needs(&cow, &period(date(2026, 12, 1), date(2027, 2, 1)), &place, START, None);
    assert!((needs.weather_share - 0.5).abs() < 1e-9);
    let january = mean_needs(&cow, &period(date(2027, 1, 1), date(2027, 2, 1)), &place, START, None);
    assert!(january.weather_share.abs() < 1e-12 && january.lower_critical_c.is_none());
    assert!(january.energy.cold_nem_mcal.abs() < 1e-12);
}

#[test]
fn more_milk_needs_more_of_everything() {
    let april = period(date(2027, 4, 1), date(2027, 5, 1));
    let at = |peak| mean_needs(&cow(545.0, peak, 37.0), &april, &Place::default(), START, None);
    for peak in [4.0, 6.0, 8.0, 10.0, 12.0] {
        let (less, more) = (at(peak), at(peak + 1.0));
        assert!(more.energy.total_nem_mcal() > less.energy.total_nem_mcal());
        assert!(more.cp_g > less.cp_g && more.ca.total_g() > less.ca.total_g() && more.p.total_g() > less.p.total_g());
        assert!(more.dmi_kg > less.dmi_kg && more.tdn_pct > less.tdn_pct);
    }
}

#[test]
fn a_stocker_that_gains_nothing_needs_no_energy_of_gain() {
    let still = Group { gain_kg_per_day: Some(0.0), ..group(AnimalClass::Stocker, 220.0) };
    let needs = mean_needs(&still, &period(START, date(2026, 12, 15)), &Place::default(), START, None);
    assert!(needs.neg_mcal.abs() < 1e-12 && needs.mp.gain_g.abs() < 1e-12 && needs.gain_kg.abs() < 1e-12);
    assert!((needs.weight_kg - 220.0).abs() < 1e-9);
}

#[test]
fn gain_grows_the_weight_and_the_need() {
    let stocker = Group { gain_kg_per_day: Some(0.8), mature_weight_kg: 590.0, ..group(AnimalClass::Stocker, 220.0) };
    let needs = |from| mean_needs(&stocker, &period(from, from.tomorrow().unwrap()), &Place::default(), START, None);
    let (first, later) = (needs(START), needs(date(2027, 2, 23)));
    assert!((later.weight_kg - 220.0 - 80.0).abs() < 1e-9);
    assert!(later.energy.maintenance_nem_mcal > first.energy.maintenance_nem_mcal && later.neg_mcal > first.neg_mcal);
}

#[test]
fn a_bred_heifer_reaches_her_target_at_calving() {
    let calving = date(2027, 2, 15);
    let heifer =
        Group { mature_weight_kg: 545.0, calving: Some(calving), ..group(AnimalClass::BredHeifer, kg_from_lb(900.0)) };
    let there = target::weight_kg(&heifer, calving, START);
    assert!((there - 0.85 * 545.0).abs() < 1e-6, "{there}");
    let after = target::gain_kg(&heifer, calving, START);
    assert!((after - 0.07 * 545.0 / 365.0).abs() < 1e-12);
    let fat = Group { weight_kg: 500.0, ..heifer };
    assert!(target::gain_kg(&fat, START, START).abs() < 1e-12);
}

#[test]
fn condition_asks_and_spares_what_the_energy_between_scores_says() {
    let by = date(2027, 2, 23);
    let hundred_days = period(START, by);
    let asked = |class, to| {
        let group = Group { condition_wanted: Some((to, by)), gain_kg_per_day: Some(0.0), ..group(class, 545.0) };
        mean_needs(&group, &hundred_days, &Place::default(), START, None)
    };
    let between = |to| condition::energy_between_mcal(545.0, 5.0, to, Edition::Nasem2016);
    let close = |ours: f64, wanted: f64| assert!((ours - wanted).abs() < 1e-9, "{ours} {wanted}");
    close(asked(AnimalClass::Cow, 6.0).energy.condition_nem_mcal, between(6.0) / 100.0);
    close(asked(AnimalClass::Cow, 4.0).energy.condition_nem_mcal, 0.8 * between(4.0) / 100.0);
    close(asked(AnimalClass::FirstCalfCow, 4.0).energy.condition_nem_mcal / between(4.0) * 100.0, 0.8 * 0.4);
    close(asked(AnimalClass::Cow, 4.0).condition_to, 4.0);
    close(asked(AnimalClass::Cow, 4.0).condition_from, 5.0);
    close(asked(AnimalClass::Cow, 5.0).energy.condition_nem_mcal, 0.0);
    close(asked(AnimalClass::Cow, 5.0).mcal_per_score, -between(4.0));
}

#[test]
fn a_hard_spell_asks_more_than_can_be_fed() {
    use overwinter::herd::ColdSpell;
    use overwinter::need::spell_need;
    let cow = cow(545.0, 9.0, 37.0);
    let plains = place(4.5, 20.0);
    let day = date(2027, 1, 15);
    let at = |coat, mean_f: f64| {
        let spell = ColdSpell { days: 7, mean_c: c_from_f(mean_f), wind_kmh: 15.0 * KM_PER_MILE, coat };
        spell_need(&cow, &plains, &spell, day, START, None)
    };
    let (dry, wet) = (at(Coat::Dry, 20.0), at(Coat::Wet, 10.0));
    assert!(dry.cold_uncapped_nem_mcal < wet.cold_uncapped_nem_mcal);
    assert!(wet.left_over_nem_mcal() > 0.0 && wet.days_to_make_good().unwrap() > 0.0);
    let most = cold::MOST_SHARE * wet.maintenance_nem_mcal;
    assert!((wet.extra_nem_mcal() + wet.in_ration_nem_mcal - most).abs() < 1e-9);
    assert!((wet.rule_pct - 2.0 * (59.0 - (10.0 - 15.0))).abs() < 1e-9);
    assert!((dry.wind_chill_f - 5.0).abs() < 1e-9);
    let ordinary = mean_needs(&cow, &period(day, day.tomorrow().unwrap()), &plains, START, None);
    assert!((dry.in_ration_nem_mcal - ordinary.energy.cold_nem_mcal).abs() < 1e-9);
}

proptest::proptest! {
    #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]

    /// The printed inverse is 0.44 % low everywhere.
    #[test]
    fn energy_and_gain_are_inverse(weight in 100.0..478.0f64, gain in 0.1..2.5f64) {
        let back = growth::gain_kg(weight, growth::neg_mcal(weight, gain));
        proptest::prop_assert!((back / gain - 1.0).abs() < 0.0045, "{} kg, {} kg a day: {}", weight, gain, back);
    }

    #[test]
    fn need_and_intake_meet_where_they_are_said_to(
        weight in 150.0..600.0f64,
        gain in 0.0..1.2f64,
        calf in proptest::bool::ANY,
    ) {
        let equivalent = growth::equivalent_weight_kg(weight, 600.0);
        let (maintenance, neg) =
            (maintenance_nem_mcal(weight, &MaintenanceTerms::default()), growth::neg_mcal(equivalent, gain));
        let curve = Curve::Growing { c: if calf { intake::CALF } else { intake::YEARLING } };
        let met = meet(&curve, weight, maintenance, neg);
        if met.at_bound {
            proptest::prop_assert!(met.tdn_pct >= 95.0 || met.tdn_pct <= 40.0);
        } else {
            let gains = if neg > 0.0 { neg / neg_mcal_per_kg(met.tdn_pct) } else { 0.0 };
            let needed = maintenance / met.nem_mcal_per_kg + gains;
            proptest::prop_assert!((needed - met.dmi_kg).abs() < 1e-6);
        }
    }
}
