//! Errors of a command, and the exit code of each.

use std::io;
use std::process::ExitCode;

use super::interrupt;
use crate::scenario::{Diagnostics, system_fault};
use crate::study::{DesignError, MergeError, StoreError, SweepError};

/// Why a command did not succeed.
#[derive(Debug, thiserror::Error)]
pub enum ExitError {
    /// Wrong usage or wrong input; nothing was written. Exit code 2.
    #[error("{0:#}")]
    WrongInput(anyhow::Error),
    /// Failure while working: disk, memory or a bug. Exit code 1.
    #[error("{0:#}")]
    Failed(anyhow::Error),
    /// Failure of the system while a file or the output was written. Exit code 1.
    #[error("cannot write: {}", system_fault(.0))]
    System(io::Error),
    /// Stopped from outside; the text says what was kept. Exit code 130 for Ctrl-C, 143 for the request to terminate.
    #[error("{0}")]
    Interrupted(String),
}

impl ExitError {
    /// Exit code for the shell.
    pub fn exit_code(&self) -> ExitCode {
        match self {
            Self::WrongInput(_) => ExitCode::from(2),
            Self::Failed(_) | Self::System(_) => ExitCode::from(1),
            Self::Interrupted(_) => ExitCode::from(interrupt::exit_code()),
        }
    }

    /// The faults of a scenario, if it is a list of them; each names its place.
    pub fn faults(&self) -> Option<&Diagnostics> {
        match self {
            Self::WrongInput(error) => error.downcast_ref(),
            _ => None,
        }
    }

    /// Whether the only failure is a closed pipe, as in `shoalwise params | head`.
    pub fn is_broken_pipe(&self) -> bool {
        matches!(self, Self::System(error) if error.kind() == io::ErrorKind::BrokenPipe)
    }
}

impl From<io::Error> for ExitError {
    fn from(error: io::Error) -> Self {
        Self::System(error)
    }
}

impl From<serde_json::Error> for ExitError {
    fn from(error: serde_json::Error) -> Self {
        // An error of the system keeps its kind, so that `is_broken_pipe` recognises a closed pipe.
        Self::System(io::Error::from(error))
    }
}

impl From<csv::Error> for ExitError {
    fn from(error: csv::Error) -> Self {
        // An error of the system keeps its kind.
        Self::System(io::Error::from(error))
    }
}

impl From<Diagnostics> for ExitError {
    fn from(faults: Diagnostics) -> Self {
        Self::WrongInput(faults.into())
    }
}

impl From<DesignError> for ExitError {
    fn from(fault: DesignError) -> Self {
        match fault {
            DesignError::Vary(faults) => faults.into(),
            fault => Self::WrongInput(fault.into()),
        }
    }
}

impl From<StoreError> for ExitError {
    fn from(fault: StoreError) -> Self {
        match fault {
            StoreError::DiskFull { .. } | StoreError::Io { .. } => Self::Failed(fault.into()),
            _ => Self::WrongInput(fault.into()),
        }
    }
}

impl From<SweepError> for ExitError {
    fn from(error: SweepError) -> Self {
        match error {
            SweepError::Store(fault) => fault.into(),
            SweepError::Point(faults) => faults.into(),
        }
    }
}

impl From<MergeError> for ExitError {
    fn from(fault: MergeError) -> Self {
        match fault {
            MergeError::Store(fault) => fault.into(),
            _ => Self::WrongInput(fault.into()),
        }
    }
}
