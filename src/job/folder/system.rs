//! What systems do differently: two names exchanged in one step, mount points, room on the disk.

use std::fs;
use std::io;
use std::path::Path;

/// Exchanges two names in one step; false where the system cannot.
///
/// # Errors
/// Where it could, and did not.
#[cfg(target_os = "linux")]
pub(super) fn exchange(one: &Path, other: &Path) -> io::Result<bool> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    use rustix::io::Errno;
    match renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE) {
        Ok(()) => Ok(true),
        Err(Errno::NOSYS | Errno::INVAL | Errno::NOTSUP) => Ok(false),
        Err(error) => Err(error.into()),
    }
}

#[cfg(not(target_os = "linux"))]
pub(super) fn exchange(_: &Path, _: &Path) -> io::Result<bool> {
    Ok(false)
}

/// Whether another disk is mounted at this folder, or another folder shown there.
#[cfg(target_os = "linux")]
pub(super) fn is_mounted(folder: &Path) -> bool {
    use rustix::fs::{AtFlags, CWD, StatxAttributes, StatxFlags, statx};
    let found = statx(CWD, folder, AtFlags::SYMLINK_NOFOLLOW, StatxFlags::empty());
    found.is_ok_and(|found| found.stx_attributes.contains(StatxAttributes::MOUNT_ROOT))
}

#[cfg(not(target_os = "linux"))]
pub(super) fn is_mounted(_: &Path) -> bool {
    false
}

/// Bytes that are left on the disk of this folder; none where the system does not say.
#[cfg(unix)]
pub(super) fn room(folder: &Path) -> Option<u64> {
    let disk = rustix::fs::statvfs(folder).ok()?;
    disk.f_bavail.checked_mul(disk.f_frsize)
}

#[cfg(not(unix))]
pub(super) fn room(_: &Path) -> Option<u64> {
    None
}

/// Whether two names are those of one and the same file.
#[cfg(unix)]
pub(super) fn is_same(one: &Path, other: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let both = (fs::symlink_metadata(one), fs::symlink_metadata(other));
    matches!(both, (Ok(one), Ok(other)) if (one.dev(), one.ino()) == (other.dev(), other.ino()))
}

#[cfg(not(unix))]
pub(super) fn is_same(_: &Path, _: &Path) -> bool {
    let _ = fs::symlink_metadata("");
    false
}

/// Whether `file`, which was opened by that name, still bears it.
#[cfg(unix)]
pub(super) fn still_named(file: &fs::File, name: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let both = (file.metadata(), fs::symlink_metadata(name));
    matches!(both, (Ok(one), Ok(other)) if (one.dev(), one.ino()) == (other.dev(), other.ino()))
}

#[cfg(not(unix))]
pub(super) fn still_named(_: &fs::File, name: &Path) -> bool {
    name.exists()
}
