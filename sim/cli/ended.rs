//! How a command ended other than well, and the exit code that says so.

use std::io;
use std::process::ExitCode;

use super::interrupt;
use crate::scenario::Faults;
use crate::study::{DesignFault, FolderFault, MergeFault, StoreFault};

/// How a command ended other than well.
#[derive(Debug)]
pub enum Ended {
    /// Wrong usage or wrong input; nothing was written. Exit code 2.
    WrongInput(anyhow::Error),
    /// Failed while working: disk, memory, a fault of ours. Exit code 1.
    Failed(anyhow::Error),
    /// Stopped from outside; says what was kept. Exit code 130 for Ctrl-C, 143 for the request to terminate.
    Interrupted(String),
}

impl Ended {
    /// What the shell is told.
    #[must_use]
    pub fn exit_code(&self) -> ExitCode {
        match self {
            Self::WrongInput(_) => ExitCode::from(2),
            Self::Failed(_) => ExitCode::from(1),
            Self::Interrupted(_) => ExitCode::from(interrupt::exit_code()),
        }
    }

    /// What the reader is told.
    #[must_use]
    pub fn says(&self) -> String {
        match self {
            Self::WrongInput(why) | Self::Failed(why) => format!("{why:#}"),
            Self::Interrupted(kept) => kept.clone(),
        }
    }

    /// Whether it is only that nobody reads on, as where output goes to `head`.
    #[must_use]
    pub fn is_unread(&self) -> bool {
        let Self::Failed(why) = self else { return false };
        why.chain()
            .filter_map(|cause| cause.downcast_ref::<io::Error>())
            .any(|cause| cause.kind() == io::ErrorKind::BrokenPipe)
    }
}

impl From<io::Error> for Ended {
    fn from(why: io::Error) -> Self {
        Self::Failed(why.into())
    }
}

impl From<serde_json::Error> for Ended {
    fn from(why: serde_json::Error) -> Self {
        // Through the error of the system, so that a reader who left is known as such.
        Self::Failed(io::Error::from(why).into())
    }
}

impl From<csv::Error> for Ended {
    fn from(why: csv::Error) -> Self {
        Self::Failed(why.into())
    }
}

impl From<Faults> for Ended {
    fn from(faults: Faults) -> Self {
        Self::WrongInput(faults.into())
    }
}

impl From<FolderFault> for Ended {
    fn from(fault: FolderFault) -> Self {
        match fault {
            FolderFault::Occupied { .. } => Self::WrongInput(fault.into()),
            FolderFault::Disk { .. } => Self::Failed(fault.into()),
        }
    }
}

impl From<DesignFault> for Ended {
    fn from(fault: DesignFault) -> Self {
        Self::WrongInput(fault.into())
    }
}

impl From<StoreFault> for Ended {
    fn from(fault: StoreFault) -> Self {
        match fault {
            StoreFault::Full { .. } | StoreFault::Disk { .. } => Self::Failed(fault.into()),
            _ => Self::WrongInput(fault.into()),
        }
    }
}

impl From<MergeFault> for Ended {
    fn from(fault: MergeFault) -> Self {
        match fault {
            MergeFault::Store(fault) => fault.into(),
            _ => Self::WrongInput(fault.into()),
        }
    }
}
