//! Needs against published tables, and properties that must hold for every animal.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "tests")]
#![allow(missing_docs, reason = "tests")]

mod laws;
#[path = "../rows/mod.rs"]
mod rows;

use indexmap::indexmap;
use jiff::civil::date;
use overwinter::feed::energy::{me_mcal_per_kg, neg_mcal_per_kg, nem_mcal_per_kg};
use overwinter::herd::{AnimalClass, Coat, Group, Hide, MonthWeather, Period, Place, Sex};
use overwinter::need::cold::{Age, Exposure};
use overwinter::need::condition::Edition;
use overwinter::need::energy::{INTACT_BULL, MaintenanceTerms, maintenance_nem_mcal};
use overwinter::need::intake::{Curve, meet};
use overwinter::need::moment::Moment;
use overwinter::need::{
    Needs, cold, condition, growth, intake, lactation, mean_needs, mineral, moment, needs_in_month, pregnancy, protein,
    target, water,
};
use overwinter::quantity::{G_PER_OZ, KG_PER_LB, KM_PER_MILE, c_from_f, f_from_c, kg_from_lb, lb_from_kg};
use rows::{Inputs, Ours, run};

const G_PER_LB: f64 = 1000.0 * KG_PER_LB;

fn group(class: AnimalClass, weight_kg: f64) -> Group {
    Group {
        name: "test".into(),
        class,
        sex: Sex::Female,
        head: 1,
        weight_kg,
        mature_weight_kg: weight_kg,
        condition: 5.0,
        condition_wanted: None,
        condition_path: Vec::new(),
        calving: None,
        peak_milk_kg: 0.0,
        milk_composition_pct: lactation::TABLE_MILK_PCT,
        weaning_days: 210.0,
        calf_birth_weight_kg: 37.0,
        breed_factor: 1.0,
        gain_kg_per_day: None,
        weight_wanted_kg: None,
        under_a_year: false,
        turnout: None,
        activity_share: 0.0,
        coat: Coat::Dry,
        hide: Hide::Average,
        limit_fed: false,
        water_sulfur_g: 0.0,
        base_intake_pct: None,
    }
}

fn cow(weight_kg: f64, peak_milk_kg: f64, calf_birth_weight_kg: f64) -> Group {
    Group { peak_milk_kg, calf_birth_weight_kg, calving: Some(date(2027, 3, 1)), ..group(AnimalClass::Cow, weight_kg) }
}

/// A table row's month as the printed tables have it.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn month(row: &Inputs, key: &str) -> u32 {
    row.number(key) as u32
}

fn coat(row: &Inputs) -> Coat {
    match row.text("coat") {
        "dry" => Coat::Dry,
        "wet" => Coat::Wet,
        "muddy" => Coat::Muddy,
        other => panic!("coat {other}"),
    }
}

#[test]
fn pregnancy_energy_as_printed() {
    run("pregnancy_energy.yaml", |row| {
        indexmap! { "nem_mcal" => pregnancy::nem_mcal(row.number("calf_birth_weight_kg"), row.number("day")) }
    });
}

#[test]
fn cow_of_533_kg_as_printed() {
    run("cow_533_kg.yaml", |row| {
        let birth = row.number("calf_birth_weight_kg");
        let cow = cow(row.number("weight_kg"), row.number("peak_milk_kg"), birth);
        let needs = needs_in_month(&cow, month(row, "month"));
        let stage = target::stage_in_month(month(row, "month"));
        indexmap! {
            "maintenance_nem_mcal" => needs.energy.maintenance_nem_mcal,
            "milk_nem_mcal" => needs.energy.milk_nem_mcal,
            "pregnancy_nem_mcal" => needs.energy.pregnancy_nem_mcal,
            "total_nem_mcal" => needs.energy.total_nem_mcal(),
            "mp_maintenance_g" => needs.mp.maintenance_g,
            "mp_milk_g" => needs.mp.milk_g,
            "mp_pregnancy_g" => needs.mp.pregnancy_g,
            "mp_total_g" => needs.mp.total_g(),
            "ca_g" => needs.ca.total_g(),
            "p_g" => needs.p.total_g(),
            "milk_kg" => needs.milk_kg,
            "conceptus_kg" => pregnancy::conceptus_kg(birth, stage.gestation_days),
        }
    });
}

#[test]
fn growing_cattle_as_printed() {
    run("growing_533_kg.yaml", |row| {
        let (weight, gain) = (row.number("weight_kg"), row.number("gain_kg"));
        let equivalent = growth::equivalent_weight_kg(weight, row.number("final_weight_kg"));
        let neg = growth::neg_mcal(equivalent, gain);
        let net_protein = growth::net_protein_g(gain, neg);
        let ca = mineral::calcium(weight, net_protein, 0.0, None);
        let p = mineral::phosphorus(weight, net_protein, 0.0, None);
        indexmap! {
            "maintenance_nem_mcal" => maintenance_nem_mcal(weight, &MaintenanceTerms::default()),
            "neg_mcal" => neg,
            "mp_maintenance_g" => protein::mp_maintenance_g(weight),
            "mp_gain_g" => growth::mp_g(equivalent, net_protein),
            "ca_maintenance_g" => ca.maintenance_g,
            "p_maintenance_g" => p.maintenance_g,
            "ca_gain_g" => ca.gain_g,
            "p_gain_g" => p.gain_g,
        }
    });
}

#[test]
fn cow_of_1200_lb_as_printed() {
    run("cow_1200_lb.yaml", |row| {
        let cow = cow(
            kg_from_lb(row.number("weight_lb")),
            kg_from_lb(row.number("peak_milk_lb")),
            row.number("calf_birth_weight_kg"),
        );
        let needs = needs_in_month(&cow, month(row, "month"));
        let g_dm = needs.dmi_kg * 1000.0;
        indexmap! {
            "dmi_lb" => lb_from_kg(needs.dmi_kg),
            "cp_pct" => 100.0 * needs.cp_g / g_dm,
            "ca_pct" => 100.0 * needs.ca.total_g() / g_dm,
            "p_pct" => 100.0 * needs.p.total_g() / g_dm,
            "nem_mcal_per_lb" => needs.nem_mcal_per_kg * KG_PER_LB,
            "nem_mcal" => needs.energy.total_nem_mcal(),
            "cp_lb" => needs.cp_g / G_PER_LB,
            "tdn_cubic_pct" => needs.tdn_pct,
            "tdn_above_print" => needs.tdn_pct - row.number("tdn_printed_pct"),
        }
    });
}

/// Pregnancy in the last third as the 1984 edition counts it, Mcal NEm a day.
const PREGNANCY_1984_MCAL: f64 = 2.15;

#[test]
fn cows_of_the_1984_edition_by_its_own_equations() {
    run("cows_1984.yaml", |row| {
        let weight = kg_from_lb(row.number("weight_lb"));
        let (dmi, milk) = (kg_from_lb(row.number("dmi_lb")), kg_from_lb(row.number("milk_lb")));
        let last_third = row.text("stage") == "last_third";
        let asked = maintenance_nem_mcal(weight, &MaintenanceTerms::default())
            + milk * lactation::energy_1984_mcal_per_kg(4.0)
            + if last_third { PREGNANCY_1984_MCAL } else { 0.0 };
        let eaten = dmi * nem_mcal_per_kg(row.number("tdn_pct"));
        indexmap! {
            "cp_lb" => protein::cp_1984_g(weight, dmi, last_third, milk) / G_PER_LB,
            "tdn_lb" => row.number("dmi_lb") * row.number("tdn_pct") / 100.0,
            "energy_balance_pct" => 100.0 * (eaten / asked - 1.0),
        }
    });
}

#[test]
fn condition_as_printed() {
    run("condition_fat.yaml", |row| indexmap! { "fat_pct" => 100.0 * condition::fat_share(row.number("score")) });
    run("condition_weight.yaml", |row| {
        let score = row.number("score");
        let later = Edition::Nasem2016;
        let kg = condition::weight_share(score, later) - condition::weight_share(score - 1.0, later);
        indexmap! {
            "nrc1996_pct" => 100.0 * condition::weight_share(score, Edition::Nrc1996),
            "nasem2016_pct" => 100.0 * condition::weight_share(score, later),
            "nasem2016_mcal_per_kg_gained" =>
                condition::energy_between_mcal(1.0, score - 1.0, score, later) / kg,
        }
    });
    let step = |row: &Inputs, lb: f64, edition| {
        let score = row.number("score");
        condition::energy_between_mcal(kg_from_lb(lb), score - 1.0, score, edition)
    };
    run("condition_energy_1996.yaml", |row| {
        indexmap! {
            "lb_1200" => step(row, 1200.0, Edition::Nrc1996),
            "lb_1300" => step(row, 1300.0, Edition::Nrc1996),
            "lb_1400" => step(row, 1400.0, Edition::Nrc1996),
            "lb_1500" => step(row, 1500.0, Edition::Nrc1996),
            "mcal_per_kg" => step(row, lb_from_kg(1.0), Edition::Nrc1996),
        }
    });
    run("condition_energy_2016.yaml", |row| {
        indexmap! {
            "lb_1000" => step(row, 1000.0, Edition::Nasem2016),
            "lb_1100" => step(row, 1100.0, Edition::Nasem2016),
            "lb_1200" => step(row, 1200.0, Edition::Nasem2016),
            "lb_1300" => step(row, 1300.0, Edition::Nasem2016),
            "lb_1400" => step(row, 1400.0, Edition::Nasem2016),
        }
    });
    run("condition_days.yaml", |row| {
        let (at_five, from) = (kg_from_lb(row.number("weight_at_five_lb")), row.number("from"));
        let surplus = row.number("surplus_mcal");
        indexmap! {
            "mcal" => condition::energy_between_mcal(at_five, from, from + 1.0, Edition::Nrc1996),
            "days" => condition::days_for_one_score(at_five, from, surplus, false, Edition::Nrc1996).unwrap(),
        }
    });
}

/// Needs of a growing animal: NEm, NEg, metabolizable protein.
fn growing(weight_kg: f64, final_kg: f64, gain_kg: f64, bull: bool) -> (f64, f64, f64) {
    let sex_factor = if bull { INTACT_BULL } else { 1.0 };
    let equivalent = growth::equivalent_weight_kg(weight_kg, final_kg);
    let neg = growth::neg_mcal(equivalent, gain_kg);
    let mp = protein::mp_maintenance_g(weight_kg) + growth::mp_g(equivalent, growth::net_protein_g(gain_kg, neg));
    (maintenance_nem_mcal(weight_kg, &MaintenanceTerms { sex_factor, ..Default::default() }), neg, mp)
}

#[test]
fn growing_bulls_as_printed() {
    run("bulls.yaml", |row| {
        let (weight, mature) = (kg_from_lb(row.number("weight_lb")), kg_from_lb(row.number("mature_weight_lb")));
        let (maintenance, neg, mp) = growing(weight, mature, kg_from_lb(row.number("gain_lb")), true);
        let curve = Curve::Growing { c: intake::CALF };
        let (dmi, tdn) = (kg_from_lb(row.number("dmi_lb")), row.number("tdn_pct"));
        let for_gain = (dmi - maintenance / nem_mcal_per_kg(tdn)) * neg_mcal_per_kg(tdn);
        indexmap! {
            "dmi_lb" => lb_from_kg(curve.dmi_kg(weight, nem_mcal_per_kg(tdn))),
            "tdn_pct" => meet(&curve, weight, maintenance, neg).tdn_pct,
            "cp_pct" => protein::cp_g(mp) / dmi / 10.0,
            "gain_lb" => lb_from_kg(growth::gain_kg(growth::equivalent_weight_kg(weight, mature), for_gain)),
        }
    });
}

#[test]
fn single_values_for_growing_cattle() {
    run("growing_single_values.yaml", |row| {
        let (weight, mature) = (kg_from_lb(row.number("weight_lb")), kg_from_lb(row.number("final_weight_lb")));
        let gain = kg_from_lb(row.number("asked_gain_lb"));
        let method = row.text("method");
        let (maintenance, mut neg, mp) = growing(weight, mature, gain, method.starts_with("bull"));
        let curve = match method {
            "heifer_1984" => {
                neg = growth::neg_1984_mcal(weight, gain, growth::Frame1984::MediumHeifer);
                Curve::Growing1984
            }
            "bull_yearling" => Curve::Growing { c: intake::YEARLING },
            "steer" | "heifer_1996" | "bull_calf" => Curve::Growing { c: intake::CALF },
            other => panic!("method {other}"),
        };
        let met = meet(&curve, weight, maintenance, neg);
        indexmap! {
            "nem_mcal" => maintenance,
            "neg_mcal" => neg,
            "tdn_tenth_pct" => met.tdn_pct,
            "cp_tenth_pct" => protein::cp_g(mp) / met.dmi_kg / 10.0,
            "dmi_lb" => lb_from_kg(met.dmi_kg),
            "cp_lb" => protein::cp_g(mp) / G_PER_LB,
            "tdn_lb" => lb_from_kg(met.dmi_kg) * met.tdn_pct / 100.0,
        }
    });
}

/// What the columns of single values are made of.
fn single(needs: &[Needs]) -> Ours {
    let mean = |of: &dyn Fn(&Needs) -> f64| needs.iter().map(of).sum::<f64>() / needs.len() as f64;
    indexmap! {
        "cp_lb" => mean(&|n| n.cp_g) / G_PER_LB,
        "cp_pct" => mean(&|n| n.cp_g / n.dmi_kg / 10.0),
        "cp_tenth_pct" => mean(&|n| n.cp_g / n.dmi_kg / 10.0),
        "tdn_lb" => mean(&|n| lb_from_kg(n.dmi_kg) * n.tdn_pct / 100.0),
        "tdn_tenth_lb" => mean(&|n| lb_from_kg(n.dmi_kg) * n.tdn_pct / 100.0),
        "tdn_pct" => mean(&|n| n.tdn_pct),
        "dmi_lb" => mean(&|n| lb_from_kg(n.dmi_kg)),
        "ca_oz" => mean(&|n| n.ca.total_g()) / G_PER_OZ,
        "p_oz" => mean(&|n| n.p.total_g()) / G_PER_OZ,
        "vitamin_a_thousand_iu" => mean(&|n| n.vitamin_a_iu) / 1000.0,
    }
}

#[test]
fn single_values_for_cows() {
    run("cow_single_values.yaml", |row| {
        let weight = kg_from_lb(row.number("weight_lb"));
        match row.text("method") {
            "months" => {
                let cow = cow(weight, kg_from_lb(row.number("peak_milk_lb")), row.number("calf_birth_weight_kg"));
                let months: Vec<Needs> =
                    (month(row, "from")..=month(row, "to")).map(|month| needs_in_month(&cow, month)).collect();
                single(&months)
            }
            "days" => {
                let cow = cow(weight, kg_from_lb(row.number("peak_milk_lb")), row.number("calf_birth_weight_kg"));
                let day = |key| cow.calving.unwrap() + jiff::Span::new().days(i64::from(month(row, key)));
                let period = Period { label: String::new(), from: day("from"), to: day("to") };
                single(&[mean_needs(&cow, &period, &Place::default(), period.from, None)])
            }
            "nrc1984" => {
                let (dmi, milk) = (kg_from_lb(row.number("dmi_given_lb")), kg_from_lb(row.number("milk_lb")));
                let cp = protein::cp_1984_g(weight, dmi, row.number("last_third") > 0.5, milk);
                indexmap! {
                    "cp_lb" => cp / G_PER_LB,
                    "cp_tenth_pct" => cp / dmi / 10.0,
                    "ca_oz" => {
                        let ca = mineral::calcium(weight, 0.0, milk, None);
                        (ca.maintenance_g + ca.milk_g) / G_PER_OZ
                    },
                    "p_oz" => {
                        let p = mineral::phosphorus(weight, 0.0, milk, None);
                        (p.maintenance_g + p.milk_g) / G_PER_OZ
                    },
                }
            }
            other => panic!("method {other}"),
        }
    });
}

#[test]
fn lower_critical_temperatures() {
    run("cold_critical.yaml", |row| {
        let weight = kg_from_lb(1200.0);
        let maintenance = maintenance_nem_mcal(weight, &MaintenanceTerms::default());
        let me_mcal = maintenance / nem_mcal_per_kg(55.0) * me_mcal_per_kg(55.0);
        let exposure = Exposure {
            air_c: 0.0,
            wind_kmh: row.number("wind_mph") * KM_PER_MILE,
            coat: coat(row),
            hair_cm: row.number("hair_cm"),
            hide: Hide::Average,
        };
        let need = cold::need(weight, Age::Adult, 5.0, me_mcal, 0.0, &exposure);
        indexmap! { "lower_critical_f" => f_from_c(need.lower_critical_c) }
    });
}

#[test]
fn cold_by_month_and_wind_as_recomputed() {
    run("cold_recomputed.yaml", |row| {
        let cow = cow(
            kg_from_lb(row.number("weight_lb")),
            kg_from_lb(row.number("peak_milk_lb")),
            row.number("calf_birth_weight_kg"),
        );
        let air_c = c_from_f(row.number("air_f"));
        let wind_kmh = row.number("wind_mph") * KM_PER_MILE;
        let moment = Moment {
            weight_kg: cow.weight_kg,
            stage: target::stage_in_month(month(row, "month")),
            gain_kg: 0.0,
            score: 5.0,
            reserve_mcal: 0.0,
            last_month_c: None,
            weather: Some(MonthWeather { mean_c: air_c, wind_kmh }),
        };
        let need = moment::need(&cow, &moment, Coat::Dry);
        indexmap! {
            "lower_critical_f" => f_from_c(need.lower_critical_c.unwrap()),
            "added_pct" => 100.0 * need.cold_uncapped_nem_mcal / need.energy.maintenance_nem_mcal,
            "rule_pct" => cold::rule_pct(Coat::Dry, cold::wind_chill_f(air_c, wind_kmh)),
        }
    });
}

#[test]
fn rules_of_thumb_for_cold() {
    run("cold_rules.yaml", |row| {
        let chill = row.number("wind_chill_f");
        let added = cold::rule_pct(coat(row), chill);
        let mut ours = indexmap! { "added_pct" => added, "purdue_pct" => cold::rule_purdue_pct(chill) };
        if row.has("hay_lb") {
            ours.insert("hay_with_cold_lb", row.number("hay_lb") * (1.0 + added / 100.0));
        }
        ours
    });
}

#[test]
fn water_as_printed() {
    run("water.yaml", |row| {
        let drinker = match row.text("class") {
            "growing_600_lb" => water::Drinker::Growing(kg_from_lb(600.0)),
            "dry_cow" => water::Drinker::DryCow,
            "milking_cow" => water::Drinker::MilkingCow,
            "bull" => water::Drinker::Bull,
            other => panic!("class {other}"),
        };
        indexmap! { "gallons" => water::gallons(drinker, c_from_f(row.number("air_f"))) }
    });
}

#[test]
fn energy_of_milk_as_printed() {
    run("milk_energy.yaml", |row| {
        let per_kg = lactation::energy_mcal_per_kg(row.number("fat_pct"), row.number("snf_pct"));
        let milk = kg_from_lb(row.number("milk_lb"));
        indexmap! { "mcal" => milk * per_kg, "mcal_per_lb" => per_kg * KG_PER_LB }
    });
}
