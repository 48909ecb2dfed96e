//! What the window's help says, by topic. Words only: the window paints the
//! samples and fills in what is true of the lesson on screen.

use super::board::Work;
use super::cautions::{CAUTIONS, Caution, FIRST};
use crate::check::Verdict;

/// A page of the help.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Topic {
    /// What to look at first.
    #[default]
    Begin,
    /// What the words at the end of a row mean.
    Verdicts,
    /// What is proved, and what is only the best found.
    Sure,
    /// What nobody has stated, and where it would be.
    Assumed,
    /// What the board shows.
    Board,
    /// Moving and holding by hand.
    ByHand,
    /// The day on which the lesson is taught.
    Day,
    /// The lessons of a department in a week.
    Week,
    /// What the class may see.
    ClassView,
    /// What to mind, with sources.
    Cautions,
    /// Where everything is kept.
    Files,
    /// Keys.
    Keys,
    /// Which program this is, what it touches, and whose work is in it.
    About,
}

impl Topic {
    /// All, in the order in which they are offered.
    pub const ALL: [Topic; 13] = [
        Topic::Begin,
        Topic::Verdicts,
        Topic::Sure,
        Topic::Assumed,
        Topic::Board,
        Topic::ByHand,
        Topic::Day,
        Topic::Week,
        Topic::ClassView,
        Topic::Cautions,
        Topic::Files,
        Topic::About,
        Topic::Keys,
    ];

    /// What it is called.
    pub fn title(self) -> &'static str {
        match self {
            Topic::Begin => "Where to begin",
            Topic::Verdicts => "What the verdicts mean",
            Topic::Sure => "How sure it is",
            Topic::Assumed => "What is assumed",
            Topic::Board => "What the picture shows",
            Topic::ByHand => "Moving and holding",
            Topic::Day => "On the day",
            Topic::Week => "A department's week",
            Topic::ClassView => "The class view",
            Topic::Cautions => "Cautions",
            Topic::Files => "Where files are kept",
            Topic::Keys => "Keys",
            Topic::About => "About ovenbell",
        }
    }

    /// What stands on it.
    pub fn parts(self) -> Vec<Part> {
        match self {
            Topic::Begin => begin(),
            Topic::Verdicts => verdicts(),
            Topic::Sure => sure(),
            Topic::Assumed => assumed(),
            Topic::Board => board(),
            Topic::ByHand => by_hand(),
            Topic::Day => day(),
            Topic::Week => week(),
            Topic::ClassView => class_view(),
            Topic::Cautions => cautions(),
            Topic::Files => files(),
            Topic::Keys => vec![Part::Live(Live::Keys)],
            Topic::About => about(),
        }
    }
}

/// What stands on a page, one below the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Part {
    /// A heading.
    Heading(&'static str),
    /// A paragraph.
    Words(&'static str),
    /// A word that is used on screen, and what it means.
    Term(&'static str, &'static str),
    /// A verdict beside its shape.
    Verdict(Verdict, &'static str),
    /// A kind of work beside its pattern.
    Work(Work, &'static str),
    /// A line or a fill of the board beside a sample of it.
    Sign(Sign, &'static str),
    /// A caution.
    Caution(Caution),
    /// What is true of the lesson on screen.
    Live(Live),
}

/// What the board has beside bars.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Sign {
    /// A step of the whole class.
    Class,
    /// An oven's temperature.
    Heat,
    /// A mixture or a tin that waits.
    Thread,
    /// Kit or adults in use, under a line at what is there.
    Ribbon,
    /// A plan laid over.
    Outline,
    /// The minute line.
    Minute,
    /// Something held where it is.
    Held,
    /// When a group is ready, early to late.
    Lens,
    /// A minute at which looking pays.
    Look,
}

impl Sign {
    /// All, in the order in which they are explained.
    pub const ALL: [Sign; 9] = [
        Sign::Class,
        Sign::Heat,
        Sign::Thread,
        Sign::Ribbon,
        Sign::Outline,
        Sign::Minute,
        Sign::Held,
        Sign::Lens,
        Sign::Look,
    ];
}

/// What the window fills in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Live {
    /// The way to open the sample lesson.
    Sample,
    /// The way to show the hints of the first start again.
    Hints,
    /// The assumed figures of this lesson, each a way to its field.
    Figures,
    /// What the verdict of this lesson hangs on.
    HangsOn,
    /// The folders in use.
    Folders,
    /// The table of keys.
    Keys,
    /// The licences, each to be opened.
    Licences,
}

fn begin() -> Vec<Part> {
    vec![
        Part::Words(
            "ovenbell fits the bakes of a class between two bells. The sentence at the top says \
             how it ends, the running order below shows how, and the card on the right has more about \
             whatever is selected.",
        ),
        Part::Words(
            "The sample lesson is there to be tried: choose a group, read on its card what each tin \
             would come to, take another one, and watch the plan follow. Undo takes back \
             whatever was changed in a lesson; what is noted in your own tables of bakes and minutes \
             stays there, and is taken back where it was noted or by deleting its line.",
        ),
        Part::Words(
            "For a class of your own choose New in the menu Lesson, or go to Set up to change the one on screen. Recipe, \
             room, class and bells are enough. Whatever else a plan needs is filled in with what \
             is usual, and marked assumed until you say otherwise.",
        ),
        Part::Words(
            "Where not every group fits, the smallest changes that help stand along the bottom. \
             Choose one to see it over the plan before anything is changed.",
        ),
        Part::Live(Live::Sample),
        Part::Live(Live::Hints),
    ]
}

/// What a verdict means.
pub fn meaning(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fits => {
            "The group is ready before the class's closing steps, with the spare minutes you want: \
             5, unless the page Adults and rules says otherwise."
        }
        Verdict::Tight => {
            "The group is ready before the closing steps, but with less to spare than you want. \
             One slip, and it is late."
        }
        Verdict::NotRealistically => {
            "No plan was found in which the group is ready, with the minutes that plans are made \
             with. It is not proved that there is none, so do not call it impossible."
        }
        Verdict::CannotAll => {
            "By itself the group could be served. All together cannot: however it is arranged, \
             somebody is left out, and in this plan it is this group."
        }
        Verdict::Cannot => {
            "Proved impossible, even if every step went quickly. The card has the sum, to be \
             checked with pencil and paper, or the fewest rules and groups that stand against each \
             other."
        }
        Verdict::LeftOut => "You have left the group out, so it is not judged.",
    }
}

fn verdicts() -> Vec<Part> {
    let order = [
        Verdict::Fits,
        Verdict::Tight,
        Verdict::NotRealistically,
        Verdict::CannotAll,
        Verdict::Cannot,
        Verdict::LeftOut,
    ];
    let mut parts = vec![Part::Words(
        "Every group's row ends in a shape of its own; the card of a group says the word. The \
         verdict of the lesson is that of its worst group.",
    )];
    parts.extend(order.map(|verdict| Part::Verdict(verdict, meaning(verdict))));
    parts.extend([
        Part::Heading("Ready"),
        Part::Words(
            "Ready is the end of a group's last step: baked, cooled, boxed and washed up. Only \
             what is collected after the lesson does not count. Spare is the time from ready to \
             the closing steps of the class, such as the unit check.",
        ),
        Part::Words(
            "To give is how much later a group may run than planned, the others as planned, so \
             that all are still ready before the closing steps. Who hands a whisk or a place in \
             the oven on has less to give than is spare.",
        ),
        Part::Words(
            "Plans go by the usual minutes of every step, or slower ones if you ask for caution. \
             Cannot goes by the quick ones, with every choice you allow.",
        ),
    ]);
    parts
}

fn sure() -> Vec<Part> {
    vec![
        Part::Words(
            "Every plan you see has been checked against all rules, by a part of the program that \
             knows nothing of how the plan was made. How good it is stands under the sentence:",
        ),
        Part::Term(
            "checked: no better arrangement",
            "Proved, with these figures: no arrangement gets more groups out, keeps more first \
             choices of tins and methods, or leaves the worst group more of the wanted spare.",
        ),
        Part::Term(
            "best found",
            "The best that was come upon. Beside it stands how far it is proved: “at most” so many \
             groups could be served by any plan; “at least” so many departures or minutes short \
             every plan has. The truth lies between the two.",
        ),
        Part::Term(
            "best so far",
            "The planner is still looking; what you see already holds. Stop looking ends that.",
        ),
        Part::Term(
            "departures",
            "How far groups are from what they like best: one for each place down the list of \
             tins, a hundred for another method.",
        ),
        Part::Heading("Odds by the bell"),
        Part::Words(
            "A plan goes by the usual minutes; a class does not. Odds, in the menu View, plays the \
             plan many times with other minutes between quick and slow, and tells in how many of \
             ten such lessons all are out: filled squares even with the wide spread, hatched ones \
             only with half of it. Nobody has timed your class, so odds stand beside the verdict \
             and never turn it.",
        ),
        Part::Heading("What a proof rests on"),
        Part::Words(
            "A proof is no better than its figures. Where a figure that nobody stated would turn \
             the verdict if it were a little other, that figure is named.",
        ),
        Part::Live(Live::HangsOn),
    ]
}

fn assumed() -> Vec<Part> {
    vec![
        Part::Words(
            "What nobody has stated is filled in with what is usual. These figures of the lesson \
             on screen bear on its plan; press one to go to the field where you can state it. From \
             then on it is yours, and no longer listed.",
        ),
        Part::Live(Live::Figures),
        Part::Heading("Where minutes come from"),
        Part::Words(
            "Where only usual minutes are given, quick ones are taken as three quarters of them \
             and slow ones as half as much again: a rule of this program, not a measurement. A bake \
             is no pupil who may be quick: of 18 usual minutes it takes 15 to 21½, nine times in \
             ten (chosen, not measured). The minutes of the library are common practice; put in \
             your own.",
        ),
        Part::Words(
            "Bake minutes for a tin that the recipe does not name are worked out from a tin that \
             it does, by how heat goes into the mixture. In the middle of published recipes that \
             is right to about 15 %, and the band beside it says how far it may be out.",
        ),
        Part::Words(
            "Note on a group's card what a bake really took: later plans go by it where the recipe \
             says nothing.",
        ),
    ]
}

/// What a kind of work is on the board.
pub fn kind_of_work(work: Work) -> &'static str {
    match work {
        Work::Bench => "Plain: work of hands that the bake waits for, or that waits for it.",
        Work::Door => {
            "Ruled upright: tins go in, or are tested and taken out. The oven door is open for it."
        }
        Work::Bake => "With a heavy lower edge: in the oven. The minutes stand on it.",
        Work::Cool => "Dotted: cooling until it can be finished or boxed.",
        Work::Wait => "Open, its edge dashed: proving, resting, chilling; no hands are needed.",
        Work::Clear => "Hatched: washing up, drying and wiping, in the lane below the tin's way.",
    }
}

/// What a sign of the board is.
pub fn sign(sign: Sign) -> &'static str {
    match sign {
        Sign::Class => "A step of the whole class, such as the demo: nobody's hands are free.",
        Sign::Heat => "An oven's temperature, which has to climb before the first tin goes in.",
        Sign::Thread => "The mixture or the tin waits for the next step.",
        Sign::Ribbon => {
            "Kit or adults in use, as high as they are many; the dashed line is what is there."
        }
        Sign::Outline => {
            "A plan laid over this one: a change being looked at, or the plan before the last \
             change. A lesson that is changed keeps its plan until the next one stands."
        }
        Sign::Minute => {
            "The minute line. The card says what every group, oven and adult does at that minute."
        }
        Sign::Held => "Held where it is: the planner arranges the rest around it.",
        Sign::Lens => {
            "With the odds: from early to late when a group is ready, in eight such lessons of \
             ten, with a stroke at the middle."
        }
        Sign::Look => "With the odds: by then it is best told who will be out.",
    }
}

fn board() -> Vec<Part> {
    let works = [Work::Bench, Work::Door, Work::Bake, Work::Cool, Work::Wait, Work::Clear];
    let mut parts = vec![
        Part::Words(
            "Time runs from left to right, from one bell to the other. Every group is a row that \
             ends when it is ready. Every oven is a cabinet with its shelves as lanes.",
        ),
        Part::Heading("Bars"),
    ];
    parts.extend(works.map(|work| Part::Work(work, kind_of_work(work))));
    parts.push(Part::Heading("Lines and bands"));
    parts.extend(Sign::ALL.map(|of| Part::Sign(of, sign(of))));
    parts.extend([
        Part::Words(
            "Point at a bar: the ends of what it waits for, and the beginnings of what waits for \
             it, stand thick. Choose a bar, a name or an oven, and its card is on the right. Drag the background to move \
             along; Ctrl with the wheel shows more or less time.",
        ),
        Part::Words(
            "As a list shows the same plan in lines of text, in the order in which a screen reader \
             reads them.",
        ),
    ]);
    parts
}

fn by_hand() -> Vec<Part> {
    vec![
        Part::Words(
            "What the planner has placed can be carried somewhere else: a step or a bake to \
             another minute, a bake to another oven or shelf, and with its name a whole group \
             earlier or later. Drag it. Meanwhile a line shows where it may be put: unbroken where \
             nobody else moves, dashed where others do, dotted where another group loses its \
             place. Where there is no line a rule forbids it, and is told, with the sum.",
        ),
        Part::Words(
            "By keyboard: walk to a bar or a name, carry it with Alt and the arrow keys, put it \
             down with Enter, or leave it where it was with Escape. The card has buttons for the \
             same, and Ctrl and Space, or a click with Ctrl, selects several things to be carried \
             together.",
        ),
        Part::Heading("Held"),
        Part::Words(
            "What you have put somewhere is held there, and so is whatever you hold on its card or \
             with the key L: its time, its oven, its tin or method, or all of it. The planner \
             keeps what is held and arranges the rest around it. Things held that contradict each \
             other are named; let go of one of them, or take the move back with Undo.",
        ),
    ]
}

fn day() -> Vec<Part> {
    vec![
        Part::Words(
            "The day has a copy of the lesson. Say there what happens: a pupil is absent, \
             ingredients are forgotten, an oven is out, the start is late, an adult is called away, a group makes its \
             reserve recipe. The others keep their times as far as that can be, and what changed \
             is listed. Once groups are at work, what has begun stays where it is.",
        ),
        Part::Words(
            "While the lesson is taught each unit has a line. A tap tells what it says: go, in, \
             out or ready; late is beside it. What was told stands on an ink line; what nobody told \
             is presumed as planned, on a dashed one. It is written at once. Where a unit is behind \
             and will not be out, up to four ways are named, and nothing changes until you keep \
             one; beside them, what an adult's help would have to bring. Bell now sets the clock to the school's bell.",
        ),
        Part::Words(
            "The lesson itself stays as it was. Teach it again, in the menu Lesson, makes the lesson of \
             another day out of it.",
        ),
    ]
}

fn week() -> Vec<Part> {
    vec![
        Part::Words(
            "A week is a file that points to lessons: which is taught to which class, on which \
             day, between which bells, in which room. What a lesson knows stays in its own file; \
             what the department shares stands in the week's.",
        ),
        Part::Words(
            "A new week, in the menu Lesson, begins with the bells and the room of the lesson on \
             screen. Drop lesson files on it, or choose Put a lesson in: each comes with its own \
             bells and room, on the day of its date or the first that is free. Move to… on its card, or a drag, brings it \
             where it belongs. The week after, in the menu This week, is the same with a new Monday.",
        ),
        Part::Heading("The picture"),
        Part::Words(
            "Rooms stand below each other along one clock. A lesson lies between its bells, and \
             rises by the ovens it has in use; the line above it is how many work that day. \
             Below stands what goes from room to room: what is wanted beyond what is there is \
             hatched above its line.",
        ),
        Part::Words(
            "Each lesson is planned as if it were alone, and what all of them want is added up. So \
             a sum above the line is a clash that anybody can check; whether the lessons could \
             give way to each other is told beside it.",
        ),
        Part::Heading("Moves"),
        Part::Words(
            "What would clear a clash stands along the bottom, what asks least of people first. \
             Choosing one shows the week with it; only Keep changes the week's file. An oven that \
             is out of order is chosen by its room: Out until… shows which lessons that breaks.",
        ),
        Part::Heading("Ingredients and papers"),
        Part::Words(
            "In the week's Ingredients all its lessons are added up, of one day or of all; the \
             card says how much each needs, and leads there. Packets and labels are entered with \
             each lesson. Its Papers are the technician's days and the order, each one sheet for \
             all lessons, and any sheet of each lesson as the week has it.",
        ),
        Part::Heading("A lesson of the week"),
        Part::Words(
            "Open the lesson shows it by its own file: with its own bells and room, which may be \
             others, and says which. Take over from the week writes the week's date, bells, room and \
             kit into it, and says who else is taught from that file.",
        ),
        Part::Heading("What stands in its file only"),
        Part::Words(
            "Bells, rooms, kit that goes from room to room, hours of adults, days that differ and \
             what rests overnight are written into the week's file with any editor; what is \
             wrong there is told with its line. Copy lessons/week/week.ron to see all of it.",
        ),
    ]
}

fn class_view() -> Vec<Part> {
    vec![
        Part::Words(
            "The class may be watching. The class view is for the projector, in a window of its \
             own where there can be two: the clock, the call that is on and the next one, and who \
             has which place in which oven, in black on white, to be read from the back row.",
        ),
        Part::Words(
            "It follows the clock, or the minute line if you want to show what comes. It never \
             shows what is private to the teacher: needs, pace, verdicts, groups that do not fit, \
             or why. Escape closes it.",
        ),
    ]
}

fn cautions() -> Vec<Part> {
    let mut parts = vec![Part::Words(FIRST)];
    parts.extend(CAUTIONS.map(Part::Caution));
    parts.push(Part::Words(
        "Sources are named for the United Kingdom as far as they were known when this was written; \
         read their own text, which may have changed, before you rely on it.",
    ));
    parts
}

fn files() -> Vec<Part> {
    vec![
        Part::Words(
            "A lesson is one file, wherever you save it: text that any editor reads. Saving keeps \
             the file as it was under its name with .bak added.",
        ),
        Part::Words(
            "While you have changes that are not saved, a copy of them lies beside the file, its \
             name ending in .unsaved, or in your data folder where there is no file yet. It goes \
             when you save; after a crash it is opened again.",
        ),
        Part::Words(
            "Your own library and the table of bakes you noted lie in your data folder, the looks \
             of the window and the list of recent files in the folder of settings. A folder called \
             ovenbell-data beside the program keeps both with it, as on a USB stick.",
        ),
        Part::Live(Live::Folders),
        Part::Words(
            "Nothing goes over a network. Needs are kept by unit, never by a pupil's name; Clear \
             this class, in the menu Lesson, takes them out of the file, its backup, its copies and your \
             library.",
        ),
    ]
}

fn about() -> Vec<Part> {
    vec![
        Part::Words(concat!("ovenbell ", env!("CARGO_PKG_VERSION"), ", by its contributors.")),
        Part::Words(
            "You may use it, change it and hand it on, under the MIT License or the Apache License \
             2.0, whichever you like better. It comes without warranty of any kind.",
        ),
        Part::Heading("What it touches"),
        Part::Words(
            "It works offline: it opens no connection, waits for none, and sends nothing to \
             anybody, no reports of faults either. There is no account and it looks for no newer \
             version of itself.",
        ),
        Part::Words(
            "It reads and writes the files you open, save and print to, what stands beside them \
             while they are open, and its own two folders. Only the system's file dialog and the \
             interface of screen readers are asked for something.",
        ),
        Part::Live(Live::Folders),
        Part::Heading("Typefaces"),
        Part::Words(
            "Letters are Atkinson Hyperlegible, with some for Irish and Welsh made of its own; \
             other scripts come from DejaVu Sans, and signs that both lack from Ubuntu, Hack, Noto \
             Emoji and an icon face that came with the toolkit.",
        ),
        Part::Heading("Licences of all that is in it"),
        Part::Live(Live::Licences),
    ]
}
