//! Every code a herd file or a gin file can be refused or warned with: title and explanation, for the docs and for `explain`.

use crate::diagnostic::Diagnostic;

macro_rules! codes {
    ($($name:ident $text:literal $title:literal $explanation:literal)*) => {
        /// What can be wrong with a herd file or a gin file.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Code {
            $(#[doc = $title] $name,)*
        }

        impl Code {
            /// Every code, in order.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];

            /// The code as printed: `H`, of gin files alone `G`, and three digits.
            #[must_use]
            pub fn text(self) -> &'static str {
                match self { $(Self::$name => $text,)* }
            }
            /// What it says, in a few words.
            #[must_use]
            pub fn title(self) -> &'static str {
                match self { $(Self::$name => $title,)* }
            }
            /// Why it is asked and what to write.
            #[must_use]
            pub fn explanation(self) -> &'static str {
                match self { $(Self::$name => $explanation,)* }
            }
        }
    };
}

codes! {
    Unread "H001" "The file cannot be read"
        "The name may be mistyped, it may be a folder, or it may belong to someone else. Nothing was read."
    TooLarge "H002" "The file is too large"
        "A herd file is a page or two of text. Anything above one megabyte is another kind of file and is not read at all."
    NotText "H003" "The file is not plain text"
        "A herd file is text in UTF-8. Spreadsheets, word processor documents and pictures are not; save as plain text."
    Empty "H004" "The file is empty"
        "There is nothing in it but blanks and comments. A herd file has at least `winter`, `groups` and `feeds`, a gin file `gin` and `season`; the README shows short ones."
    Syntax "H005" "The file is not YAML"
        "The text breaks the form of YAML at that place, so nothing after it can be read. Most often a colon has no space after it, a bracket is not closed, or a line is not lined up with its neighbors."
    Tab "H006" "A tab is used to line things up"
        "Tabs have no fixed width, so YAML forbids them in front of a key. Use spaces, two for each step."
    SecondDocument "H007" "The file holds more than one document"
        "A line `---` in the middle starts a second document, and only one herd is read from a file. Put the second in a file of its own."
    Shorthand "H008" "Anchors, aliases, merge keys and tags are not used"
        "`&name`, `*name`, `<<:` and `!tag` are YAML shorthand that hides what a line says. Herd files and gin files are read aloud by people, so write the value out."
    TooDeep "H009" "Too deeply nested"
        "No part of a herd file or a gin file is nested more than a few steps. Twenty is far beyond any of them."
    DuplicateKey "H010" "The same key is written twice"
        "Only one of the two could count, and nothing says which was meant. Keep one. Both places are shown."
    WrongShape "H011" "The wrong kind of value"
        "A map (`key: value` lines) stands where a single value belongs, or the reverse. The message says what belongs there."
    OtherFile "H012" "A file of another command"
        "A gin file tells of a gin, its season and what it sells, and is read by `overwinter gin`; a herd file tells of cattle, feeds and a winter, and is read by all other commands."
    UnknownKey "H020" "A key that is not known"
        "A key that is not known is never skipped: a mistyped limit would silently not hold. The nearest known key is named if one is near."
    NoUnit "H021" "A quantity without its unit"
        "Every key that holds a quantity ends in its unit, so that a file cannot be misread: `weight_lb`, not `weight`."
    TwiceGiven "H022" "One quantity given in two units"
        "The same quantity is written in two units. Even if they agree today, only one will be kept up to date. Keep one."
    MissingKey "H023" "A key that must be there is missing"
        "There is no default for it that would be right for most places."
    NotNumber "H024" "Not a number"
        "Figures are written plain: `1200`, not `1,200`, `1200 lb`, `$240` or `\"1200\"`. The unit is in the key."
    NotFinite "H025" "Not a finite number"
        "Infinity and NaN are numbers to a computer and nonsense to a scale. Leave the key out where there is no bound."
    OutOfRange "H026" "A value outside any that can be meant"
        "Each key has a range wide enough for every real case. A value outside it is a slip of the pen, a misplaced point or another unit."
    NotWhole "H027" "Not a whole number"
        "Head and days are counted."
    NotDate "H028" "Not a date"
        "Dates are written year, month, day: `2026-11-15`. That form cannot be misread for day and month."
    NotChoice "H029" "Not one of the words that can stand here"
        "The key takes one of a few words. They are listed, and the nearest is named."
    Exclusive "H030" "Keys that exclude each other"
        "Two keys say the same thing in two ways, or one makes the other meaningless. Keep one."
    BadName "H031" "Not a name"
        "Names of groups and feeds stand in every table. They are 1 to 40 characters in one line."
    Unused "H033" "A key that changes nothing, or does not fit"
        "The key is known, but nothing reads it beside the others or for this feed, or it does not fit such a feed: hay is in no tank. Most often something else was meant."
    WinterOrder "H040" "The winter ends before it begins"
        "`from` is the first day fed and `to` the day after the last, the turn-out day, so `to` must be later."
    WinterLength "H041" "The winter is too long"
        "A winter is 1 to 400 days. A longer one is most likely a wrong year."
    TooManyPeriods "H042" "Too many periods"
        "At most 60 periods are planned together. Weeks for a whole year fit; days do not."
    PeriodDates "H043" "Period dates out of order or outside the winter"
        "A list under `periods` holds the first days of the periods, in order, from the first day of the winter on and before its end."
    UnknownRegion "H050" "Weather of a region that is not known"
        "`weather` names a region with monthly means shipped with the program, or gives `months` of your own."
    NoWeather "H051" "No weather for part of the winter"
        "Without temperature and wind no cold is counted in those months, so the need for energy may be too low. Missing is not zero; the report says so too."
    SpellWeather "H052" "A cold spell by its kind where no weather is known"
        "An `ordinary`, `hard` or `record` spell is so many degrees below the mean of the coldest month. Without weather of the winter there is no mean to go by; name a region, or write the spell out."
    NoTurnout "H056" "Bulls with cottonseed feeds and no turn-out date"
        "Untested whole seed is kept from young bulls, and direct-solvent meal from all bulls, from 90 days before they are turned out with the cows to 90 days after, while they breed. Without the date nothing is kept from them. Write `turnout` with the day; where cottonseed feeds are for other groups only, say so with `groups`."
    Uncalved "H053" "A first-calf cow that has not calved"
        "A `first_calf_cow` has had her first calf. One that is to calve this winter and is lighter than 85 % of mature weight is most likely a heifer in calf with her first: as a `bred_heifer` she is fed for the growth she still needs and for her only calf, not for one at side."
    NotGrazed "H057" "A key of grazing on a feed that is not grazed"
        "Cost per head-month, acres and the share of intake are for dormant grass, stalks and pasture, which are eaten where they stand. Whatever is hauled has a price per ton and tons on hand."
    NoReserves "H058" "A condition wanted of growing cattle"
        "In stockers, replacement heifers and young bulls gain and condition are one, and the equations count the gain. A condition wanted changes nothing."
    UnlikelyGain "H059" "A gain few cattle make"
        "The target of the kind, reckoned from weight, mature weight and calving date, asks for more than 2 lb a day. A weight or a date is most likely mistaken, or the heifers are too small to calve by then."
    NoGroups "H060" "No cattle"
        "There must be at least one group under `groups`."
    WrongClass "H061" "A key that does not fit the kind of cattle"
        "A bull has no milk and no calving date, a cow no gain target. The key or the kind is mistaken."
    AboveMature "H062" "Growing cattle heavier than their mature weight"
        "Growth is reckoned from the share of mature weight reached. An animal at or above it does not grow; give a higher `mature_weight_lb` or a grown kind."
    NoGain "H063" "Growing cattle without a target"
        "Stockers, replacement heifers and young bulls are fed for a gain. Say how much a day, or what weight by what date."
    CalvingFar "H064" "Calving far from this winter"
        "`calving` is the date nearest this winter, at most 300 days before its first day or after its last. A date farther off is most likely a wrong year."
    TargetDate "H065" "A target date outside the winter"
        "A condition score is wanted by a day of this winter, a weight by a day after the first one."
    YoungCalf "H066" "Calves under four months"
        "Calves under four months stay with their dams and live on milk; they are not ruminants yet. They must not get whole cottonseed or any other source of gossypol. No ration is made for them. They are part of the group of their dams, whose milk they drink. Growing cattle under 250 lb may be as young: they are warned of, and get no feed with gossypol or urea until they weigh that much."
    Open "H067" "No calving date"
        "Without a calving date nothing is counted for a calf or for milk. If the cattle are open that is right; write `calving: open` and nothing more is said."
    TargetWeight "H068" "A weight target that cannot be meant"
        "The weight wanted must be above the weight now and not above the mature weight, at a gain below what cattle can make (2 kg a day)."
    UnsafeLoss "H069" "More condition lost than cattle can bear"
        "A grown cow at score 6 or better may lose one score from weaning to calving, other cows none and heifers none; none is planned in the last 60 days; no cow is planned to calve under 5 or to lose more than one score between calving and breeding. The last two are never lifted; the others are with `because:`. The rules are from memory; your veterinarian knows your cattle."
    NoFeeds "H070" "No feeds"
        "There must be at least one feed under `feeds`."
    UnknownFeed "H071" "A feed that is not in the table"
        "A feed takes its composition from a row of the feed table by its own name or by `like: ROW`, or it brings its own with `class` and `composition`. `overwinter feeds` lists the rows."
    Incomplete "H072" "A feed of your own without its composition"
        "A feed that is not in the table needs at least dry matter, TDN and crude protein. A missing value is not zero."
    UnknownNutrient "H073" "A nutrient that is not known"
        "Values of a test are written with nutrient and basis in the key: `cp_pct_dm` is crude protein, percent of dry matter. Convert as-fed figures to dry matter first."
    NoSupply "H074" "A feed that cannot be had"
        "A feed with neither a price nor tons on hand cannot be in a plan. It is kept for rations you wrote under `fed`."
    DateOrder "H075" "Last day before the first"
        "`from` is the first day the feed can be had or fed, `to` the last."
    BoundOrder "H076" "Least above most"
        "The least amount of a feed is above the most, so no ration could be right."
    FreeChoice "H077" "Free choice of a feed that is not a roughage"
        "Cattle eat concentrates at will past what is good for them. Intake of a feed at will is reckoned from its fiber, which fits roughages and grazing only."
    Contradiction "H078" "Values that cannot both be right"
        "ADF is part of NDF, free gossypol part of total gossypol, protein, fat, ash and NDF together cannot exceed the dry matter, and TDN, in which fat counts 2.25 times, cannot exceed what is no ash. One of the values is wrong or on another basis."
    MayNotSkip "H079" "A feed that may not be skipped"
        "Grain, molasses and whatever holds urea are fed daily: several days' worth at once harms or kills. Whole seed, distillers feed and milling byproducts may be fed every second day or three times a week, for their fat and sulfur come in one meal too. Protein cubes and meal do as well up to once a week."
    UnknownGroup "H080" "A group that is not in the file"
        "Amounts, limits, needs and rations are given by the names under `groups`."
    UnknownOffer "H081" "A feed that is not in the file"
        "A ration under `fed` can only hold feeds listed under `feeds`, where price and composition come from."
    UnknownRule "H082" "A limit that is not known"
        "`overwinter explain` lists the limits with their names."
    LimitForm "H083" "A limit without a change"
        "A changed limit has exactly one of `max`, `min`, `value` with the new figure, or `off: true`."
    NoReason "H084" "A limit lifted without a reason"
        "Limits stand for the health of cattle. Whoever lifts one says why with `because:`, and the report repeats it."
    UnknownPeriod "H085" "A period that is not in the winter"
        "Rations by period are given by the label of the period or by its first day."
    MixedRation "H086" "Amounts and periods mixed"
        "Under a group in `fed` stand either feeds with amounts, for the whole winter, or periods with feeds under them."
    MissingValue "H087" "A value of a feed that a limit needs"
        "A limit over a value that is not known cannot be held, and what is not known is not zero. Write the value under `test` (from a lab report or the tag) or take a row of the table with `like`."
    LimitRefused "H088" "A limit that cannot be changed so"
        "Limits can be made stricter freely and looser with a reason, but the ones that stand for life and health can never be made looser, and needs are changed under `needs_override`."
    Unlikely "H089" "A figure far outside what such feeds have"
        "Every figure of the test or composition is held against the rows of the feed table of that class, with three times their spread, and half of that again on either side. Most often a figure is as fed where dry matter is asked, or of another feed. It is a warning: if the figure is right nothing is wrong."
    TestDate "H090" "A test of another time"
        "A test dated after the winter, or the season, cannot be of this feed. One more than a year older than its first day is of another crop or another lot; so is a gin's test from before this season's first bale, and a spray told of another year."
    UnknownSeason "H091" "A ginning season that is not known"
        "`supply` takes the weeks in which a gin runs from a region's season. `overwinter` ships a few; a gin that tells its tons a week is better than any."
    NoDensity "H092" "Room in cubic feet without a density"
        "Cubic feet become tons by the weight of a cubic foot, which is not known for this feed."
    NoLoad "H093" "Whole loads that cannot be made"
        "A feed bought in whole loads needs the tons of a load, and room for at least one."
    PriceMonths "H094" "Prices by month that begin too late"
        "A price holds from its month on until the next one. For the months before the first, the first is taken."
    NoTestWeight "H095" "A bushel price without a test weight"
        "A bushel is a measure of room that the trade has turned into a weight: 56 lb of corn or milo, 60 of wheat. For a feed whose row has none, say what a bushel of it weighs, or give the price by the ton."
    NoBale "H096" "A bale price without the weight of a bale"
        "Bales of one diameter differ by hundreds of pounds. Weigh a few and give their weight as fed, or give diameter and width of a round bale, with its density in pounds per cubic foot if you know it; the density of an 1,100-lb bale of 5 by 5 feet (E-319) is taken otherwise."
    NeverHad "H098" "A feed that can never be had"
        "Its dates leave no day of this winter on which it can be had, or fed. Most often a year was not changed."
    NoRations "H099" "No rations to judge"
        "`check` judges the rations written under `fed`, pounds as fed per head and day, by group. Without any there is nothing to judge."
    SetForm "H100" "A `--set` that is not a path, `=` and a value"
        "`--set` lays one value over the file for one run: `--set feeds.prairie_hay.price_usd_per_ton=120`. The parts of the path are the keys of the file joined by points, an item of a list by its name or its number from 1. Nothing after the `=` takes the key out."
    SetPath "H101" "A `--set` to a place that is not in the file"
        "A what-if changes a value that is there, or adds a key under one that is. A mistyped path would change nothing and look like an answer, so it is refused and the near paths are listed."
    SheetForm "H110" "A price sheet that is not a table"
        "A price sheet is a CSV table. Its first line is `feed,LIST,LIST…` with a line for each feed under it, or `case,FEED_usd_per_ton,…` with a line for each price list. Every line has as many cells as the first."
    SheetColumn "H111" "A feed or unit of a price sheet that is not known"
        "A price sheet prices feeds of the herd file, by the names they have there, in a unit that the file knows the weight of. A feed that is to be priced must stand in the file, even without a price."
    SheetRow "H112" "A name of a price sheet that is missing or there twice"
        "Feeds and price lists are told apart by their names."
    SheetPrice "H113" "Not a price"
        "A price is a plain figure from 0 up, at the seller; freight comes on top as in the herd file. An empty cell takes the price of the herd file, if it has one."
    HarvestGuessed "G001" "Harvest taken from irrigation"
        "Irrigated land is usually picked and dryland usually stripped, but not always, and a stripper without field cleaner brings six times the trash of a picker. Say how the cotton was harvested and nothing is guessed."
    PartsExceed "G002" "Parts that exceed the seed cotton"
        "Lint, seed, motes, trash and what is lost unseen are all of the seed cotton. Given figures stand; what is not given is the rest, and a rest below nothing means that one of them is wrong or of another bale."
    Unaccounted "G003" "Seed cotton that is in no part"
        "Moisture and dust take a few percent of the seed cotton. Where far more is missing, a part is too small or the seed cotton too heavy."
    BalesDiffer "G004" "Weeks that do not add up to the season"
        "`weekly_bales` holds the season's bales week by week, so its sum is the season, and its first week names the year. Where `bales` or `year` says otherwise, one of the two is not up to date."
    NoHerdFile "G005" "A neighbor's herd file that is not there"
        "The herd file of a neighbor is looked for beside the gin file. Its cattle, hay and prices say what he can pay; nothing is guessed in its place."
    SameName "G006" "Two neighbors with one name"
        "What each neighbor buys is told by his name, so no two can have the same."
    NoCattle "G007" "A neighbor without cattle"
        "A neighbor is a herd file with miles, or a line of screening: so many head like the reference herd, or head to the square mile within a distance."
    WhichFeed "G008" "Which feed of a herd file is this gin's"
        "The price of one feed of the neighbor's file is asked about. Where several could be meant, or the one named is not there, the neighbor's line names it by `trash_feed:` or `seed_feed:`."
    NoOutlet "G009" "No price for seed that is not sold near"
        "Neighbors take a small part of a gin's seed. What the crusher or the exporter pays decides what the rest nets and what is asked of neighbors; without it the rest is counted at nothing."
    UnusualTrash "G010" "Trash far from what is printed"
        "The trash of a bale, given or left as the rest, is far outside what is printed for this harvest. If the figures are right nothing is wrong; most often the harvest or the seed cotton is mistaken."
    NoSeason "G011" "Nothing says when the gin runs"
        "Tons by week follow from the season of a region that ships with the program, or from the gin's own weekly bales, which are better."
    OtherYear "G012" "A neighbor's winter in another year"
        "The winter of a neighbor's herd file is the one that begins with this gin's season. A winter a year off would buy from a pile that is long gone; most often a year was not changed."
    NeverSold "G013" "A byproduct that is never sold"
        "`from` and `to` of `trash` and `seed` are the days on which it is sold. They leave no day between the first bale and the summer after the harvest, so no neighbor could ever buy. Most often a year was not changed."
    LowCeiling "G014" "No price looked at beats the other outlets"
        "`highest_usd_per_ton` is the highest price asked. Where even that nets less than the best of `uses` does, after loading, nothing is sold to a neighbor whatever he could pay."
    FullYard "G015" "More on the yard than the season has"
        "The modules counted on the yard hold more bales than the whole season. One of the two is mistaken, or bales a module are."
}

impl Code {
    /// An error with this code.
    pub(crate) fn error(self, message: impl Into<String>) -> Diagnostic {
        Diagnostic::error(self.text(), message)
    }
    /// A warning with this code.
    pub(crate) fn warning(self, message: impl Into<String>) -> Diagnostic {
        Diagnostic::warning(self.text(), message)
    }
    /// From the code as printed, in either case.
    #[must_use]
    pub fn from_text(text: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|code| code.text().eq_ignore_ascii_case(text))
    }
}
