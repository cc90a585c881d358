//! Every equation of this module as data: what it says, what its letters mean, where it comes from and holds, and which
//! printed table it is tested against.

use super::{breed, cold, condition, energy, growth, intake, lactation, mineral, pregnancy, protein, vitamin, water};
use crate::feed::energy::NET_ENERGY_FROM_TDN;
use crate::source::{Cite, Origin};

/// One equation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Equation {
    /// Short name, as `explain` takes it.
    pub id: &'static str,
    /// What it gives.
    pub title: &'static str,
    /// The formula in plain text.
    pub formula: &'static str,
    /// Each letter with its meaning and unit.
    pub symbols: &'static [(&'static str, &'static str)],
    /// Where it comes from.
    pub cite: Cite,
    /// Where it holds.
    pub range: &'static str,
    /// File of printed values it is tested against, or [`NOT_PRINTED`].
    pub tested: &'static str,
}

/// Said of an equation no printed values could be read for.
pub const NOT_PRINTED: &str = "not printed anywhere we could read";

/// An equation by its id.
#[must_use]
pub fn by_id(id: &str) -> Option<&'static Equation> {
    EQUATIONS.iter().find(|equation| equation.id == id)
}

const SBW: (&str, &str) = ("SBW", "shrunk weight without the calf she carries, kg");
const CBW: (&str, &str) = ("CBW", "calf birth weight, kg");
const T: (&str, &str) = ("t", "days in calf");
const NEM: (&str, &str) = ("NEm", "net energy for maintenance of the diet, Mcal per kg of dry matter");
const Y: (&str, &str) = ("Y", "milk, kg a day");
const RE: (&str, &str) = ("RE", "energy retained by gain, Mcal NEg a day");
const SWG: (&str, &str) = ("SWG", "shrunk gain, kg a day");
const EQSBW: (&str, &str) = ("EQSBW", "weight equivalent in the reference animal, kg");
const NPG: (&str, &str) = ("NPg", "net protein in gain, g a day");
const SCORE: (&str, &str) = ("BCS", "body condition score, 1 to 9");
const TDN: (&str, &str) = ("TDN", "total digestible nutrients");

/// Every equation.
pub static EQUATIONS: &[Equation] = &[
    Equation {
        id: "net_energy",
        title: "net energy of a feed from its TDN, Mcal per kg of dry matter",
        formula: "ME = 0.82 · 0.04409 · TDN; NEm = 1.37 ME − 0.138 ME² + 0.0105 ME³ − 1.12; NEg = 1.42 ME − 0.174 ME² + 0.0122 ME³ − 1.65",
        symbols: &[TDN, ("ME", "metabolizable energy, Mcal per kg of dry matter")],
        cite: NET_ENERGY_FROM_TDN,
        range: "about 45 to 95 % TDN; NEg is zero at about 38 %",
        tested: "cow_1200_lb.yaml",
    },
    Equation {
        id: "maintenance",
        title: "net energy for maintenance, Mcal NEm a day",
        formula: "SBW^0.75 · (0.077 · BE · L · SEX · COMP + a2)",
        symbols: &[
            SBW,
            ("BE", "breed factor: 1.00 most, 0.90 Bos indicus, 1.20 dairy"),
            ("L", "1.20 in milk, 1.00 dry; one state table has 1.25 for first-calf heifers"),
            ("SEX", "1.15 intact bulls, 1.00 others"),
            (
                "COMP",
                "0.80 + 0.05 (BCS − 1) for growing cattle without a calf; 1.00 for grown cattle and heifers in calf",
            ),
            ("a2", "acclimatization, 0.0007 (20 − °C of last month); off unless asked for"),
        ],
        cite: energy::MAINTENANCE,
        range: "30 to 1200 kg",
        tested: "cow_533_kg.yaml",
    },
    Equation {
        id: "breed_factor",
        title: "breed defaults: maintenance factor, calf birth weight, peak milk",
        formula: "a list by breed; the mean of the parents for a cross",
        symbols: &[("BE", "factor on maintenance"), CBW],
        cite: breed::BREEDS,
        range: "a start where nothing better is known",
        tested: NOT_PRINTED,
    },
    Equation {
        id: "grazing",
        title: "net energy of grazing and walking, Mcal NEm a day",
        formula: "[0.006 · pI · (0.9 − TDNp) + 0.05 · TERRAIN / (pAVAIL + 3)] · SBW / 4.184",
        symbols: &[
            ("pI", "pasture eaten, kg of dry matter a day"),
            ("TDNp", "its TDN as a share"),
            ("TERRAIN", "1.0 level, 1.5 undulating, 2.0 hilly"),
            ("pAVAIL", "dry matter on offer, metric tons per ha"),
            SBW,
        ],
        cite: energy::GRAZING,
        range: "cattle on pasture; 0 in a drylot",
        tested: NOT_PRINTED,
    },
    Equation {
        id: "pregnancy_energy",
        title: "net energy for pregnancy, Mcal NEm a day",
        formula: "CBW · (0.576 / 0.13) · (0.05855 − 0.0000996 t) · e^((0.03233 − 0.0000275 t) t) / 1000",
        symbols: &[CBW, T],
        cite: pregnancy::ENERGY,
        range: "day 1 to 290",
        tested: "pregnancy_energy.yaml",
    },
    Equation {
        id: "pregnancy_protein",
        title: "metabolizable protein for pregnancy, g a day",
        formula: "CBW · (0.001669 − 0.00000211 t) · e^((0.0278 − 0.0000176 t) t) · 6.25 / 0.65",
        symbols: &[CBW, T],
        cite: pregnancy::PROTEIN,
        range: "day 1 to 290",
        tested: "cow_533_kg.yaml",
    },
    Equation {
        id: "conceptus",
        title: "weight of the gravid uterus, kg, and its gain, g a day",
        formula: "CW = CBW · 0.01828 · e^(0.02 t − 0.0000143 t²); gain = CBW · (0.3656 − 0.000523 t) · e^(0.02 t − 0.0000143 t²)",
        symbols: &[CBW, T],
        cite: pregnancy::PROTEIN,
        range: "day 1 to 290",
        tested: "cow_533_kg.yaml",
    },
    Equation {
        id: "milk",
        title: "milk, kg a day",
        formula: "PKYD · (n / 8.5) · e^(1 − n / 8.5)",
        symbols: &[
            ("PKYD", "peak milk, kg a day; 0.74 of a grown cow's at two years, 0.88 at three"),
            ("n", "weeks since calving"),
        ],
        cite: lactation::CURVE,
        range: "0 to 40 weeks",
        tested: "cow_533_kg.yaml",
    },
    Equation {
        id: "milk_energy",
        title: "energy of milk, Mcal per kg",
        formula: "0.092 · fat % + 0.049 · SNF % − 0.0569",
        symbols: &[("SNF", "solids-not-fat")],
        cite: lactation::ENERGY,
        range: "2 to 7 % fat",
        tested: "milk_energy.yaml",
    },
    Equation {
        id: "milk_energy_1984",
        title: "energy of milk in the 1984 edition, Mcal per kg",
        formula: "0.1 · fat % + 0.35",
        symbols: &[],
        cite: lactation::ENERGY_1984,
        range: "beef cows; for comparing with tables of that edition",
        tested: "cows_1984.yaml",
    },
    Equation {
        id: "milk_protein",
        title: "metabolizable protein for milk, g a day",
        formula: "Y · protein % · 10 / 0.65",
        symbols: &[Y],
        cite: protein::MAINTENANCE,
        range: "cows in milk",
        tested: "cow_533_kg.yaml",
    },
    Equation {
        id: "growth",
        title: "energy retained by gain, Mcal NEg a day, and gain from it",
        formula: "EQSBW = SBW · 478 / FSBW; RE = 0.0635 · (0.891 EQSBW)^0.75 · (0.956 SWG)^1.097; SWG = 13.91 · RE^0.9116 · EQSBW^−0.6837",
        symbols: &[EQSBW, ("FSBW", "shrunk weight at small marbling, or mature weight of breeding stock, kg"), RE, SWG],
        cite: growth::GROWTH,
        range: "gain 0 to 3 kg a day; the printed inverse comes out 0.44 % low",
        tested: "growing_533_kg.yaml",
    },
    Equation {
        id: "growth_1984",
        title: "energy retained by gain in the 1984 edition, Mcal NEg a day",
        formula: "a · W^0.75 · G^b: medium steer 0.0557, 1.097; large steer 0.0493, 1.097; medium heifer 0.0686, 1.119; large heifer 0.0608, 1.119",
        symbols: &[("W", "weight, kg"), ("G", "gain, kg a day")],
        cite: growth::GROWTH_1984,
        range: "for comparing with tables of that edition",
        tested: "growing_single_values.yaml",
    },
    Equation {
        id: "heifer_targets",
        title: "gain of young females, kg a day",
        formula: "in calf: (0.85 MW − weight) / days to calving; first-calf cow: (0.92 − 0.85) MW / 365; at first breeding 0.60 MW, 0.65 Bos indicus, 0.55 dairy",
        symbols: &[("MW", "mature weight, kg")],
        cite: growth::TARGETS,
        range: "never negative; the calf she carries comes on top",
        tested: NOT_PRINTED,
    },
    Equation {
        id: "gain_protein",
        title: "net and metabolizable protein of gain, g a day",
        formula: "NPg = 268 SWG − 29.4 RE; MPg = NPg / (0.834 − 0.00114 EQSBW), NPg / 0.492 above 300 kg",
        symbols: &[NPG, SWG, RE, EQSBW],
        cite: growth::GROWTH,
        range: "growing cattle",
        tested: "growing_533_kg.yaml",
    },
    Equation {
        id: "maintenance_protein",
        title: "metabolizable protein for maintenance, g a day",
        formula: "3.8 · SBW^0.75",
        symbols: &[SBW],
        cite: protein::MAINTENANCE,
        range: "all cattle",
        tested: "growing_533_kg.yaml",
    },
    Equation {
        id: "crude_protein",
        title: "crude protein that holds a need of metabolizable protein",
        formula: "CP = MP / 0.67",
        symbols: &[("MP", "metabolizable protein, g a day")],
        cite: protein::CP_FROM_MP,
        range: "ordinary forage diets; at least 7 % of dry matter besides",
        tested: "cow_1200_lb.yaml",
    },
    Equation {
        id: "crude_protein_1984",
        title: "crude protein by the factors of the 1984 edition, g a day",
        formula: "(33.4 DMI + 2.75 W^0.5 + 0.2 W^0.6 + 55 in the last third + 33.5 Y) / 0.594",
        symbols: &[("DMI", "dry matter eaten, kg a day"), ("W", "weight, kg"), Y],
        cite: protein::FACTORIAL_1984,
        range: "cows; for comparing with tables of that edition",
        tested: "cows_1984.yaml",
    },
    Equation {
        id: "microbial_protein",
        title: "protein microbes can make and what of it counts, g a day",
        formula: "MCP = 0.13 TDN, less 2.2 % for each % of effective NDF under 20; MP = 0.64 · min(MCP, degraded) + 0.80 · undegraded",
        symbols: &[("MCP", "microbial crude protein"), TDN],
        cite: protein::MICROBIAL_1996,
        range: "0.08 to 0.11 in place of 0.13 is used on poor hay; no rule counts the fiber term, a caution tells it",
        tested: NOT_PRINTED,
    },
    Equation {
        id: "microbial_protein_2016",
        title: "microbial protein by the later edition, g a day; a stress test",
        formula: "42.73 + 0.087 TDN to 3.9 % fat; 53.33 + 0.096 FFTDN above; FFTDN % = TDN % − 2.25 fat %",
        symbols: &[TDN, ("FFTDN", "fat-free TDN")],
        cite: protein::MICROBIAL_2016,
        range: "the recycled nitrogen of that edition is not credited",
        tested: NOT_PRINTED,
    },
    Equation {
        id: "cow_intake",
        title: "dry matter intake of cows, kg a day",
        formula: "SBW^0.75 · (0.04997 NEm² + b) / NEm + 0.2 Y",
        symbols: &[SBW, NEM, ("b", "0.04631 in calf, 0.0384 open"), Y],
        cite: intake::COWS,
        range: "50 to 70 % TDN; turns upward below 50 %, where the rules of thumb and fiber hold",
        tested: "cow_1200_lb.yaml",
    },
    Equation {
        id: "growing_intake",
        title: "dry matter intake of growing cattle, heifers in calf and bulls, kg a day",
        formula: "SBW^0.75 · (0.2435 NEm − 0.0466 NEm² − c) / NEm",
        symbols: &[SBW, NEM, ("c", "0.1128 under a year, 0.0869 older")],
        cite: intake::GROWING,
        range: "50 to 90 % TDN",
        tested: "bulls.yaml",
    },
    Equation {
        id: "growing_intake_1984",
        title: "dry matter intake of growing heifers in the 1984 edition, kg a day",
        formula: "0.95 · W^0.75 · (0.1493 NEm − 0.046 NEm² − 0.0196)",
        symbols: &[("W", "weight, kg"), NEM],
        cite: intake::GROWING_1984,
        range: "for comparing with tables of that edition",
        tested: "growing_single_values.yaml",
    },
    Equation {
        id: "required_density",
        title: "the poorest diet on which the animal can eat what it needs",
        formula: "M / NEm + G / NEg = DMI(NEm), solved for TDN from 40 to 95 %",
        symbols: &[("M", "all that is asked as NEm, Mcal a day"), ("G", "energy of gain, Mcal NEg a day"), NEM],
        cite: intake::COWS,
        range: "outside 40 to 95 % TDN the nearer end is given, and said",
        tested: "cow_1200_lb.yaml",
    },
    Equation {
        id: "thumb_intake",
        title: "intake of forage by rule of thumb, % of body weight",
        formula: "dry 1.8, 2.2, 2.5 and in milk 2.2, 2.5, 2.7 for forage under 52, 53 to 59 and over 59 % TDN",
        symbols: &[TDN],
        cite: Cite::new("lalman_okstate2024", "after hibberd_thrift1992", crate::source::Origin::Published),
        range: "forage eaten at will; the best row is high for dry cows",
        tested: NOT_PRINTED,
    },
    Equation {
        id: "poor_protein_intake",
        title: "share of a roughage at will that is eaten on a diet short of protein; a check counts it",
        formula: "1 − (1 − 1.2 / full) · (7 − CP) / (7 − 4) under 7 % CP",
        symbols: &[
            ("full", "eaten with enough protein, % of body weight"),
            ("CP", "crude protein of the diet as eaten, % of dry matter"),
        ],
        cite: intake::POOR_PROTEIN,
        range: "roughage eaten at will; a plan never gets there, since it keeps 7 %",
        tested: NOT_PRINTED,
    },
    Equation {
        id: "calcium",
        title: "calcium, g a day",
        formula: "[0.0154 SBW + 0.071 NPg + 1.23 Y + 13.7 CBW / 90 in the last 90 days] / 0.50",
        symbols: &[SBW, NPG, Y, CBW],
        cite: mineral::CALCIUM_PHOSPHORUS,
        range: "all cattle",
        tested: "cow_533_kg.yaml",
    },
    Equation {
        id: "phosphorus",
        title: "phosphorus, g a day",
        formula: "[0.016 SBW + 0.039 NPg + 0.95 Y + 7.6 CBW / 90 in the last 90 days] / 0.68",
        symbols: &[SBW, NPG, Y, CBW],
        cite: mineral::CALCIUM_PHOSPHORUS,
        range: "all cattle",
        tested: "cow_533_kg.yaml",
    },
    Equation {
        id: "sulfur_ceiling",
        title: "most sulfur, feed and water together, % of dry matter",
        formula: "0.30 under 15 % forage, 0.50 over 40 %, a straight line between",
        symbols: &[],
        cite: mineral::SULFUR,
        range: "the line between is our own; a plan keeps to it below 15 % too, where it is the stricter, since a linear programme cannot hold a \
                line that bends up; a check counts the 0.30",
        tested: NOT_PRINTED,
    },
    Equation {
        id: "vitamin_a",
        title: "vitamin A, IU a day",
        formula: "per kg of dry matter: 2200 growing, 2800 in calf, 3900 in milk and breeding bulls",
        symbols: &[],
        cite: vitamin::VITAMINS,
        range: "all cattle",
        tested: "cow_single_values.yaml",
    },
    Equation {
        id: "water",
        title: "water, gallons a day",
        formula: "at 40 and 50 °F: 600-lb growing 5.3, 5.8; dry cow 6.0, 6.5; in milk 11.5, 12.6; bull 8.5, 9.4",
        symbols: &[],
        cite: water::WATER,
        range: "below 40 °F as at 40 °F; above 50 °F at the same slope; growing cattle by metabolic weight (judgement)",
        tested: "water.yaml",
    },
    Equation {
        id: "cold",
        title: "lower critical temperature, °C, and energy burned for heat, Mcal ME a day",
        formula: "SA = 0.09 SBW^0.67; HE = (MEI − RE) / SA; IN = TI + EI; LCT = 39 − 0.85 · IN · HE; ME = SA · (LCT − EAT) / IN",
        symbols: &[
            SBW,
            ("MEI", "metabolizable energy of the ration without cold, Mcal a day"),
            ("RE", "energy that leaves as gain, milk and calf, Mcal a day"),
            ("TI", "5.25 + 0.75 BCS grown, 5.1875 + 0.3125 BCS yearling, °C m² day per Mcal"),
            ("EI", "(7.36 − 0.296 wind + 2.55 hair) · mud · hide, never below 0; wind km/h, hair cm"),
            ("EAT", "air temperature as felt, °C"),
        ],
        cite: cold::HEAT_BALANCE,
        range: "one pass: the feed for cold is not put back into MEI; at most 40 % of maintenance in a ration",
        tested: "cold_critical.yaml",
    },
    Equation {
        id: "cold_rule",
        title: "energy in cold by rule of thumb, % of maintenance",
        formula: "dry: 1 % per °F of wind chill under 32 (heavy coat 18); wet: 2 % per °F under 59; wind chill = °F − mph",
        symbols: &[],
        cite: cold::RULE_SLOPE,
        range: "a check on the heat balance; made for cattle at maintenance",
        tested: "cold_rules.yaml",
    },
    Equation {
        id: "condition_body",
        title: "what the empty body is made of by score, share",
        formula: "fat 0.037683 BCS; protein 0.200886 − 0.0066762 BCS; ash 0.078982 − 0.00438 BCS; water 0.766637 − 0.034506 BCS; empty weight 0.851 SBW",
        symbols: &[SCORE, SBW],
        cite: condition::COMPOSITION,
        range: "score 1 to 9",
        tested: "condition_fat.yaml",
    },
    Equation {
        id: "condition_weight",
        title: "weight by score, share of the weight at score 5",
        formula: "1996: ash(5) / ash(BCS); 2016: 1 + 0.07105 (BCS − 5)",
        symbols: &[SCORE],
        cite: condition::WEIGHT_2016,
        range: "score 1 to 9; the 2016 form is the default",
        tested: "condition_weight.yaml",
    },
    Equation {
        id: "condition_energy",
        title: "energy between scores, Mcal",
        formula: "E(b) − E(a), E = empty weight · (9.4 fat + 5.7 protein); first-calf females 1.6 times to gain, 0.4 times to lose",
        symbols: &[SCORE],
        cite: condition::COMPOSITION,
        range: "score 1 to 9",
        tested: "condition_energy_1996.yaml",
    },
    Equation {
        id: "condition_use",
        title: "diet energy a change of condition asks or spares, Mcal NEm a day",
        formula: "to gain: energy / days; to lose: 0.8 · energy / days; days to lose a score = 0.8 · energy / deficit",
        symbols: &[],
        cite: condition::RESERVES,
        range: "score 1 to 9",
        tested: "condition_days.yaml",
    },
    Equation {
        id: "certainty",
        title: "what a ration brings when its feeds come out as low as a certainty allows for, in the unit of the need",
        formula: "Σ a[f]·x[f] − z · √Σ_m (Σ_f d[m,f]·x[f])² ≥ need",
        symbols: &[
            ("a[f]", "what one kg of dry matter of feed f brings on the mean"),
            ("x[f]", "feed f, kg of dry matter a day"),
            ("d[m,f]", "what feed f falls short by when cause m is one standard deviation on the bad side"),
            ("z", "standard deviations below which the certainty lies: 0.84 at 80 %, 1.28 at 90 %"),
        ],
        cite: Cite::new("panne_popp1963", "the worked feed, as problem 73 of Hock and Schittkowski", Origin::Published),
        range: "needs of energy, protein, calcium and phosphorus; causes independent and normal",
        tested: "chance_cattle_feed.yaml",
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use std::path::Path;

    #[test]
    fn ids_are_unique_and_every_test_file_is_there() {
        let published = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/published");
        for (index, equation) in EQUATIONS.iter().enumerate() {
            assert_eq!(EQUATIONS.iter().position(|other| other.id == equation.id), Some(index), "{}", equation.id);
            assert!(by_id(equation.id).is_some());
            assert!(
                equation.tested == NOT_PRINTED || published.join(equation.tested).is_file(),
                "{}: {} is not in tests/published",
                equation.id,
                equation.tested
            );
        }
    }
}
