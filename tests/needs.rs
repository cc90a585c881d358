//! Needs against published tables, and properties that must hold for every animal.
#![allow(missing_docs)]

use jiff::civil::date;
use overwinter::herd::{AnimalClass, Coat, Group, Hide, Period, Place, Sex};
use overwinter::need::{mean_needs, needs_in_month};
use overwinter::quantity::{kg_from_lb, lb_from_kg};

fn cow(weight_lb: f64, peak_milk_lb: f64) -> Group {
    Group {
        name: "cows".into(),
        class: AnimalClass::Cow,
        sex: Sex::Female,
        head: 1,
        weight_kg: kg_from_lb(weight_lb),
        mature_weight_kg: kg_from_lb(weight_lb),
        condition: 5.0,
        condition_wanted: None,
        calving: Some(date(2027, 3, 1)),
        peak_milk_kg: kg_from_lb(peak_milk_lb),
        milk_composition_pct: (4.0, 8.3, 3.4),
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

#[test]
fn smoke() {
    let c = cow(1200.0, 20.0);
    for m in 1..=12 {
        let n = needs_in_month(&c, m);
        let dm = n.dmi_kg * 10.0;
        println!(
            "{m} dmi {:.2} tdn {:.2} cp {:.2} ca {:.3} p {:.3} nem/lb {:.4} nem {:.3} cp lb {:.3}",
            lb_from_kg(n.dmi_kg),
            n.tdn_pct,
            n.cp_g / dm,
            n.ca.total_g() / dm,
            n.p.total_g() / dm,
            n.nem_mcal_per_kg / 2.2046,
            n.energy.total_nem_mcal(),
            n.cp_g / 453.59
        );
    }
    let p = Period { label: "x".into(), from: date(2026, 12, 1), to: date(2027, 1, 1) };
    println!("{:#?}", mean_needs(&c, &p, &Place::default(), date(2026, 11, 15), None));
}
#[test]
fn explore() {
    use overwinter::feed::energy::*;
    use overwinter::herd::MonthWeather;
    use overwinter::need::{cold::*, energy::*, growth, intake::*, moment::*, protein::*, target::*};
    println!("bulls");
    for fs in [1800.0, 1850.0, 1900.0, 1925.0] {
        for (w, g, dmi, tdn, cp) in [
            (300., 1., 8.3, 58., 11.4),
            (300., 3., 8.6, 72., 21.3),
            (500., 1., 12.2, 58., 9.8),
            (500., 3., 12.6, 72., 16.3),
            (700., 1., 15.6, 58., 9.1),
            (700., 3., 16.3, 72., 13.9),
            (900., 1., 18.9, 58., 8.3),
            (900., 3., 19.6, 72., 11.9),
        ] {
            let wk = kg_from_lb(w);
            let gk = kg_from_lb(g);
            let eq = growth::equivalent_weight_kg(wk, kg_from_lb(fs));
            let neg = growth::neg_mcal(eq, gk);
            let m = maintenance_nem_mcal(wk, &MaintenanceTerms { sex_factor: 1.15, ..Default::default() });
            let np = growth::net_protein_g(gk, neg);
            let mp = mp_maintenance_g(wk) + growth::mp_g(eq, np);
            let a = meet(&Curve::Growing { c: CALF }, wk, m, neg);
            let b = meet(&Curve::Growing { c: YEARLING }, wk, m, neg);
            let at = |c, t| lb_from_kg(Curve::Growing { c }.dmi_kg(wk, nem_mcal_per_kg(t)));
            // gain at printed dmi & tdn
            let d = kg_from_lb(dmi);
            let left = (d - m / nem_mcal_per_kg(tdn)) * neg_mcal_per_kg(tdn);
            println!(
                "fs{fs} {w} {g} print {dmi} {tdn} {cp}: calf@tdn {:.2} yr@tdn {:.2} | root calf {:.2} {:.1} yr {:.2} {:.1} | cp@dmi {:.2} gain {:.2}",
                at(CALF, tdn),
                at(YEARLING, tdn),
                lb_from_kg(a.dmi_kg),
                a.tdn_pct,
                lb_from_kg(b.dmi_kg),
                b.tdn_pct,
                cp_g(mp) / d / 10.0,
                lb_from_kg(growth::gain_kg(eq, left))
            );
        }
    }
    println!("lct");
    let c = cow(1200.0, 20.0);
    for month in [8, 11, 12, 2] {
        for coat in [Coat::Dry] {
            for mph in [0.0, 5.0, 10.0, 15.0] {
                let mo = Moment {
                    weight_kg: c.weight_kg,
                    stage: stage_in_month(month),
                    gain_kg: 0.0,
                    score: 5.0,
                    reserve_mcal: 0.0,
                    last_month_c: None,
                    weather: Some(MonthWeather { mean_c: (10.0 - 32.0) / 1.8, wind_kmh: mph * 1.609344 }),
                };
                let n = overwinter::need::moment::need(&c, &mo, coat);
                print!(
                    "m{month} {mph} LCT {:.2} add {:.2} | ",
                    n.lower_critical_c.unwrap() * 1.8 + 32.0,
                    100.0 * n.cold_uncapped_nem_mcal / n.energy.maintenance_nem_mcal
                );
            }
        }
        println!();
    }
    println!("proof");
    for (hair, coat, mph) in [
        (0.64, Coat::Dry, 0.0),
        (1.27, Coat::Dry, 0.0),
        (2.5, Coat::Dry, 0.0),
        (1.27, Coat::Muddy, 0.0),
        (1.27, Coat::Dry, 10.0),
    ] {
        let sbw = kg_from_lb(1200.0);
        let m = maintenance_nem_mcal(sbw, &Default::default());
        let mei = m / nem_mcal_per_kg(55.0) * me_mcal_per_kg(55.0);
        let n = overwinter::need::cold::need(
            sbw,
            Age::Adult,
            5.0,
            mei,
            0.0,
            &Exposure { air_c: 0.0, wind_kmh: mph * 1.609344, coat, hair_cm: hair, hide: Hide::Average },
        );
        println!("{hair} {coat:?} {mph}: {:.2}", n.lower_critical_c * 1.8 + 32.0);
    }
    println!("heifer");
    for g in [1.0, 1.5] {
        let wk = kg_from_lb(650.0);
        let gk = kg_from_lb(g);
        let m = maintenance_nem_mcal(wk, &Default::default());
        for f in [growth::Frame1984::MediumHeifer, growth::Frame1984::LargeHeifer] {
            let neg = growth::neg_1984_mcal(wk, gk, f);
            let a = meet(&Curve::Growing1984, wk, m, neg);
            let gf = 33.44;
            let _ = gf;
            println!("{g} {f:?} tdn {:.2} dmi {:.2}", a.tdn_pct, lb_from_kg(a.dmi_kg));
        }
        let neg = growth::neg_mcal(growth::equivalent_weight_kg(wk, kg_from_lb(1200.0)), gk);
        let a = meet(&Curve::Growing { c: CALF }, wk, m, neg);
        let eq = growth::equivalent_weight_kg(wk, kg_from_lb(1200.0));
        let mp = mp_maintenance_g(wk) + growth::mp_g(eq, growth::net_protein_g(gk, neg));
        println!("{g} 1996 tdn {:.2} dmi {:.2} cp {:.2}", a.tdn_pct, lb_from_kg(a.dmi_kg), cp_g(mp) / a.dmi_kg / 10.0);
    }
    let wk = kg_from_lb(715.0);
    println!(
        "steer {:.3} {:.3}",
        maintenance_nem_mcal(wk, &Default::default()),
        growth::neg_mcal(growth::equivalent_weight_kg(wk, kg_from_lb(1300.0)), kg_from_lb(3.99))
    );
    let wk = kg_from_lb(715.0 * 0.96);
    println!(
        "steer shrunk {:.3} {:.3} {:.3}",
        maintenance_nem_mcal(wk, &Default::default()),
        growth::neg_mcal(growth::equivalent_weight_kg(wk, kg_from_lb(1300.0)), kg_from_lb(3.99)),
        growth::neg_mcal(growth::equivalent_weight_kg(wk, kg_from_lb(1300.0 * 0.96)), kg_from_lb(3.99))
    );
}
