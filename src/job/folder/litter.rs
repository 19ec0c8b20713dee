//! What stands beside a folder while it is written, and that it goes when the run is stopped.

use std::fs;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, RwLock, RwLockReadGuard};

/// What to take away when a run ends before its folder is whole.
#[derive(Debug, Default)]
pub(super) struct Litter {
    /// The hidden folder with what is new.
    pub fresh: Option<PathBuf>,
    /// The lock.
    pub lock: Option<PathBuf>,
}

#[derive(Debug, Default)]
struct Shared {
    /// Held by all that change anything on the disk, and for good by a stop.
    disk: RwLock<()>,
    litter: Mutex<Litter>,
}

/// Stops a run from outside, such as on a signal, and takes away what it left.
#[derive(Debug, Clone, Default)]
pub struct Stopper(Arc<Shared>);

impl Stopper {
    /// Waits until whatever is at the disk is done, keeps everything else from it for good, and takes away what is
    /// not whole. The process is to end after that: the run itself waits for ever.
    pub fn stop(&self) {
        let for_good = self.0.disk.write().unwrap_or_else(PoisonError::into_inner);
        self.litter().clear();
        std::mem::forget(for_good);
    }

    /// Leave to change the disk, for as long as it is held; never ask again while it is.
    pub(super) fn at_disk(&self) -> RwLockReadGuard<'_, ()> {
        self.0.disk.read().unwrap_or_else(PoisonError::into_inner)
    }

    pub(super) fn litter(&self) -> MutexGuard<'_, Litter> {
        self.0.litter.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Litter {
    /// Takes everything away. Where the folder will not go the lock stays too: it tells the next run.
    pub(super) fn clear(&mut self) {
        if let Some(fresh) = self.fresh.take()
            && fs::remove_dir_all(&fresh).is_err()
            && fresh.exists()
        {
            return;
        }
        if let Some(lock) = self.lock.take() {
            let _ = fs::remove_file(lock);
        }
    }
}
