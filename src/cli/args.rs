//! Words of the command line.

use clap::{Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// From an old timber sash to a proven rebate for an insulating glass unit.
///
/// Write down what you measured in a survey file, then ask whether there is enough wood, which glass
/// to order, and for drawings and machine programs that were proven against the timber.
#[derive(Debug, Parser)]
#[command(
    name = "fillister",
    version,
    after_help = "Exit status: 0 all clear or caution, 1 something is a stop, 2 the survey or the \
                  call was wrong, 3 the output could not be written.\n\nOld paint may hold lead and \
                  old putty asbestos; listed buildings need consent first. The answers do not \
                  replace local codes or licensed practice."
)]
pub(super) struct Args {
    #[command(subcommand)]
    pub command: Command,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Say which units each sash can take, and why not the others
    ///
    /// On site, without a file: --thickness, --rebate, --moulding and --sight are enough; everything else
    /// is taken at its usual value, and the answer says what that is.
    Check {
        /// The survey of the house, a TOML file; or several
        #[arg(conflicts_with = "thickness", value_name = "SURVEY")]
        surveys: Vec<PathBuf>,
        #[command(flatten)]
        on_site: OnSite,
        /// Only this sash, with everything that is known of it
        #[arg(long, value_name = "ID", requires = "surveys")]
        sash: Option<String>,
        /// Everything that is known of every sash
        #[arg(long)]
        all: bool,
        /// Print the report as JSON and nothing else
        #[arg(long)]
        json: bool,
    },
    /// Make everything: drawings, glass order, machine programs with their proof, report
    Make {
        /// The survey of the house, a TOML file; or several, each of which gets a folder of its name in the folder
        #[arg(required = true, value_name = "SURVEY")]
        surveys: Vec<PathBuf>,
        /// The folder to write; it appears whole or not at all
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
        /// Print the report as JSON and nothing else
        #[arg(long)]
        json: bool,
    },
    /// Hold two surveys against each other: what differs, and what follows from it
    Compare {
        /// A survey of the house, such as it was, or one of two options
        #[arg(value_name = "A")]
        one: PathBuf,
        /// The other
        #[arg(value_name = "B")]
        other: PathBuf,
        /// A page to write as well, for a browser or a printer; a file that is there is left alone
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// Begin a record of what is ordered, cut and glazed, to stand as done.toml beside the survey
    ///
    /// It holds every unit that may be ordered, with its size. From then on a change of the survey that makes an
    /// order wrong is a stop.
    Done {
        /// The survey of the house, a TOML file
        survey: PathBuf,
        /// The day of the order, in your words
        #[arg(long, value_name = "DAY")]
        on: String,
        /// Only this sash
        #[arg(long, value_name = "ID")]
        sash: Option<String>,
        /// The file to write; without it the record is printed. A file that is there is left alone
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// Read programs back, ours or edited by hand, and judge them against a sash
    Prove {
        /// The programs in the order in which they will be run, or the folder that holds them
        #[arg(required = true, value_name = "PROGRAM")]
        programs: Vec<PathBuf>,
        /// The survey of the house, a TOML file
        #[arg(long)]
        survey: PathBuf,
        /// The sash the programs are for, by its id in the survey
        #[arg(long, value_name = "ID")]
        sash: String,
        /// Print the proof as JSON and nothing else
        #[arg(long)]
        json: bool,
    },
    /// Open a survey in a browser on this machine: type, see what follows, take everything away
    ///
    /// What is typed is kept beside the survey as it is typed, and goes into the survey when it is saved; what was
    /// saved before stands beside it under the same name with .before behind. Nobody but this machine is let in, unless
    /// it is shared.
    #[cfg(feature = "page")]
    Page {
        /// The survey of the house; one that is not there is begun
        #[arg(default_value = "house.toml", value_name = "SURVEY")]
        survey: PathBuf,
        /// The port to answer on; 0 takes any that is free
        #[arg(long, default_value_t = 8520)]
        port: u16,
        /// Start a browser with it
        #[arg(long)]
        open: bool,
        /// Let a telephone on the same network in as well, with a key that holds until this ends; it stands in the
        /// address, and in a square code for the camera. An address of this machine may be named, where it has several
        #[arg(long, value_name = "ADDRESS", num_args = 0..=1, require_equals = true,
            default_missing_value = "0.0.0.0")]
        share: Option<std::net::Ipv4Addr>,
    },
    /// Write a survey to fill in, with a word on where to measure each thing
    Start {
        /// The texts of the glass order and the workshop sheet instead, to be said in another language: what the
        /// survey then names with `words_file`
        #[arg(long)]
        words: bool,
        /// The file to write; without it the survey is printed. A file that is there is left alone
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// Write a blank measuring sheet to print and take to the window
    Form {
        /// The PDF to write; a file that is there is left alone
        #[arg(long, value_name = "FILE")]
        out: PathBuf,
        /// What it is printed on
        #[arg(long, value_enum, default_value = "a4")]
        paper: FormPaper,
        /// In whose words: british, american, or a file of texts such as a survey names with `words_file`
        #[arg(long, default_value = "british", value_name = "WORDS")]
        words: PathBuf,
    },
    /// Print the JSON Schema of the survey and of the report
    Schema {
        /// Only one of the two
        #[arg(value_enum)]
        of: Option<SchemaOf>,
    },
    /// Print a completion script for a shell
    Completions {
        /// The shell
        #[arg(value_enum)]
        shell: clap_complete::Shell,
    },
}

/// Paper that a form can be printed on.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum FormPaper {
    /// 210 by 297 mm
    A4,
    /// 297 by 420 mm
    A3,
    /// 8 1/2 by 11 in
    Letter,
}

/// One sash in a few words. Lengths are in millimetres, or carry their unit: "1 3/4 in".
#[derive(Debug, clap::Args)]
pub(super) struct OnSite {
    /// Thickness of the sash, glazing face to room face
    #[arg(long, value_name = "LENGTH", requires_all = ["rebate", "moulding", "sight"])]
    pub thickness: Option<String>,
    /// The old rebate, width by depth, such as 9x17
    #[arg(long, value_name = "WxD", requires = "thickness")]
    pub rebate: Option<String>,
    /// The moulding, such as "ovolo 12x11" (width by depth), or square
    #[arg(long, value_name = "SHAPE WxD", requires = "thickness")]
    pub moulding: Option<String>,
    /// Daylight, width by height, such as 540x900
    #[arg(long, value_name = "WxH", requires = "thickness")]
    pub sight: Option<String>,
    /// Face width of stiles and rails [usual: 50]
    #[arg(long, value_name = "LENGTH", requires = "thickness")]
    pub face: Option<String>,
    /// How it hangs or slides [usual: side-hung]
    #[arg(long, value_name = "KIND", requires = "thickness")]
    pub kind: Option<String>,
    /// The unit to fit, such as 4-6-4
    #[arg(long, value_name = "BUILD-UP", requires = "thickness")]
    pub unit: Option<String>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum SchemaOf {
    /// What a survey file may hold
    Survey,
    /// What `check --json` holds; a sash of it is what stands in report.json in its folder
    Report,
    /// What `make --json` and report.json of the house hold
    House,
}
