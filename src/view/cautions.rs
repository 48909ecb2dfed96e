//! Cautions, each with who publishes what it says. None of them says that a
//! computed time makes food safe; all give way to the school's own policy.

/// What comes before any of them.
pub const FIRST: &str = "Your school's policy and risk assessment come first, and local rules and \
                         licensed practice before anything said here.";

/// A caution.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Caution {
    /// What it is about.
    pub about: &'static str,
    /// What to mind.
    pub words: &'static str,
    /// Where to read on: who publishes it and under which name.
    pub source: &'static str,
}

/// All of them. Sources are named as their publishers do, for the United
/// Kingdom; what is only custom says so.
pub const CAUTIONS: [Caution; 10] = [
    Caution {
        about: "Times",
        words: "Times here are for planning. A bake is done by its done test, never by the clock \
                alone, and no time worked out here says that food is safe to eat.",
        source: "common practice of the trade",
    },
    Caution {
        about: "Risk assessment",
        words: "A plan is no risk assessment. Your employer's covers this lesson, this room and \
                this class; a recipe or a tin that is new to them may need another look.",
        source: "Management of Health and Safety at Work Regulations 1999 (Great Britain); Health \
                 and Safety Executive (HSE), Managing risks and risk assessment at work",
    },
    Caution {
        about: "Hot ovens",
        words: "An adult is there whenever pupils use a hot oven or a flame; the youngest load and \
                take out with one beside them. Gloves lie ready, doors are shut between calls, \
                ovens are off before the class goes.",
        source: "common practice of the trade; plan an adult at every open door on the page \
                 Adults and rules",
    },
    Caution {
        about: "Burns",
        words: "A burn goes under cool running water for 20 minutes, at once; no ice, no cream. \
                Then whoever gives first aid at your school takes over. A plan leaves nobody free \
                for that: agree beforehand who has the class.",
        source: "Kent Fire and Rescue Service, First aid for burns and scalds",
    },
    Caution {
        about: "Gas",
        words: "The teacher knows where the isolation valve is and reaches it freely; the air is \
                extracted while gas burns. Work on gas appliances is for registered engineers. If \
                you smell gas, your school's emergency plan holds, not this one.",
        source: "Gas Safety (Installation and Use) Regulations 1998 (Great Britain); HSE, Gas \
                 safety; Institution of Gas Engineers and Managers, IGEM/UP/11 Edition 3 with its \
                 Supplement 1, on gas in educational establishments",
    },
    Caution {
        about: "Allergens",
        words: "Labels decide, every time: a brand changed by the shop can change what is in it. \
                Allergens noted with a recipe are what somebody copied from labels; nothing here \
                compares them with a pupil's needs, and unknown never means free from. Groups kept \
                apart stand in no oven at the same time as others, and use no counted kit after them: \
                that is what is arranged, never a promise that a dish is free from anything.",
        source: "the list of fourteen allergens is Annex II of Regulation (EU) No 1169/2011; all else \
                 common practice of the trade",
    },
    Caution {
        about: "Fillings that must be cooked",
        words: "Meat, fish and what is reheated are judged by a probe in the middle: 70 °C kept \
                for 2 minutes, or what your policy asks. Bake minutes here are about cakes and \
                doughs being baked, and prove nothing of the kind.",
        source: "Food Standards Agency (FSA), Cooking your food",
    },
    Caution {
        about: "Cooling and keeping",
        words: "Cooling minutes here say when a bake can be boxed without steaming, never that it \
                may be kept. What has to be chilled goes into the fridge within one to two hours; \
                a fridge is at 5 °C or below. Bakes collected later are labelled and kept as your \
                policy says.",
        source: "FSA, How to chill, freeze and defrost food safely",
    },
    Caution {
        about: "Eggs",
        words: "Wash hands after eggs. Only eggs with the British Lion mark are advised to be \
                eaten runny or raw by people at risk, and not by anybody who is severely \
                immunocompromised; cook others through. A skewer that comes out clean tells of \
                the crumb, not of the egg.",
        source: "FSA, advice on eggs of October 2017",
    },
    Caution {
        about: "Raw mixture",
        words: "Nobody tastes raw mixture or dough: flour is a raw food too. Hands and bench are \
                washed after it.",
        source: "FSA, advice on flour of August 2024",
    },
];
