//! Files on their way to the disk.

use super::list::{Fingerprint, LIST, List, OWN, Printed};
use super::litter::Stopper;
use super::{Folder, FolderError, at};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread::JoinHandle;

/// Files written at a time. A disk forces many out together almost as fast as one.
const WRITERS: usize = 16;

/// Files that may wait to be written: what is made ahead of the disk stays small.
const WAITING: usize = 64;

/// Files of a folder: relative path with `/`, and content.
pub type Files = BTreeMap<String, Vec<u8>>;

/// A part on its way.
#[derive(Debug)]
struct Part {
    name: String,
    folder: PathBuf,
    /// Files that are still to be written.
    left: AtomicUsize,
    list: Mutex<List>,
    of_folder: Arc<Mutex<List>>,
}

#[derive(Debug)]
struct Waiting {
    part: Arc<Part>,
    name: String,
    content: Vec<u8>,
}

/// Threads that write, and the first trouble of any.
#[derive(Debug)]
pub(super) struct Writers {
    send: Option<SyncSender<Waiting>>,
    threads: Vec<JoinHandle<()>>,
    trouble: Arc<Mutex<Option<FolderError>>>,
    /// Of the whole folder.
    list: Arc<Mutex<List>>,
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Writers {
    pub(super) fn new(stopper: &Stopper, list: &Arc<Mutex<List>>) -> Writers {
        let (send, wait) = sync_channel(WAITING);
        let (wait, trouble) = (Arc::new(Mutex::new(wait)), Arc::default());
        let threads = (0..WRITERS).map(|_| {
            let (wait, trouble, stopper) =
                (Arc::clone(&wait), Arc::clone(&trouble), stopper.clone());
            std::thread::spawn(move || write_all(&wait, &trouble, &stopper))
        });
        Writers { send: Some(send), threads: threads.collect(), trouble, list: Arc::clone(list) }
    }

    fn send(&self, waiting: Waiting) {
        if let Some(send) = &self.send {
            // They listen until the last is sent.
            let _ = send.send(waiting);
        }
    }

    /// Waits for all that is on its way.
    pub(super) fn finish(mut self) -> Result<(), FolderError> {
        self.join();
        locked(&self.trouble).take().map_or(Ok(()), Err)
    }

    fn join(&mut self) {
        self.send = None;
        for thread in self.threads.drain(..) {
            let _ = thread.join();
        }
    }
}

impl Drop for Writers {
    fn drop(&mut self) {
        // Nobody wants the rest.
        locked(&self.trouble).get_or_insert_with(|| FolderError::Io {
            path: PathBuf::new(),
            error: io::ErrorKind::Interrupted.into(),
        });
        self.join();
    }
}

fn write_all(
    wait: &Mutex<Receiver<Waiting>>,
    trouble: &Mutex<Option<FolderError>>,
    stopper: &Stopper,
) {
    loop {
        let waiting = locked(wait).recv();
        let Ok(Waiting { part, name, content }) = waiting else { return };
        if locked(trouble).is_some() {
            continue;
        }
        let _at_disk = stopper.at_disk();
        if let Err(error) = write_one(&part, name, &content) {
            locked(trouble).get_or_insert(error);
        }
    }
}

fn write_one(part: &Part, name: String, content: &[u8]) -> Result<(), FolderError> {
    put(&part.folder.join(&name), content)?;
    let print = Fingerprint::of(content).words();
    locked(&part.list).files.insert(name, print);
    if part.left.fetch_sub(1, Ordering::AcqRel) == 1 {
        // Its list comes last: a part that has one is whole.
        let text = locked(&part.list).text();
        put(&part.folder.join(LIST), text.as_bytes())?;
        note_part(&part.of_folder, &part.name, &text);
    }
    Ok(())
}

fn note_part(list: &Mutex<List>, part: &str, text: &str) {
    let print = Fingerprint::of(text.as_bytes()).words();
    locked(list).files.insert(format!("{part}/{LIST}"), print);
}

/// Writes a file that is not there yet, and forces it out: a full disk may only show then.
pub(super) fn put(path: &Path, content: &[u8]) -> Result<(), FolderError> {
    if let Some(parent) = path.parent() {
        at(parent, fs::create_dir_all(parent))?;
    }
    let mut file = at(path, File::create_new(path))?;
    at(path, file.write_all(content).and_then(|()| file.sync_all()))
}

impl Folder {
    /// Writes the file `name` of the folder itself.
    ///
    /// # Errors
    /// Where the disk refuses.
    pub fn put(
        &self,
        name: &str,
        content: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<(), FolderError> {
        let path = self.fresh.join(name);
        // What a killed run left of it.
        let at_disk = self.stopper.at_disk();
        let _ = fs::remove_file(&path);
        let file = at(&path, File::create_new(&path))?;
        drop(at_disk);
        let mut out = BufWriter::new(Printed::new(file));
        at(&path, content(&mut out))?;
        let printed = at(&path, out.into_inner().map_err(io::IntoInnerError::into_error))?;
        let (file, print) = printed.done();
        at(&path, file.sync_all())?;
        locked(&self.list).files.insert(name.to_owned(), print.words());
        Ok(())
    }

    /// Writes a part, which is made of what `from` tells, or hands it to those who do.
    ///
    /// # Errors
    /// Where the disk has refused already; what it refuses from here on is told at the end.
    pub fn put_part(&self, part: &str, from: &str, files: Files) -> Result<(), FolderError> {
        let Some(writers) = &self.writers else { return Ok(()) };
        if let Some(error) = locked(&writers.trouble).take() {
            return Err(error);
        }
        let folder = self.fresh.join(part);
        {
            let _at_disk = self.stopper.at_disk();
            self.new_part(part)?;
        }
        let list = List { from: (!from.is_empty()).then(|| from.to_owned()), ..List::default() };
        let on_its_way = Arc::new(Part {
            name: part.to_owned(),
            folder,
            left: AtomicUsize::new(files.len()),
            list: Mutex::new(list),
            of_folder: Arc::clone(&writers.list),
        });
        for (name, content) in files {
            writers.send(Waiting { part: Arc::clone(&on_its_way), name, content });
        }
        Ok(())
    }
}

impl Folder {
    /// Where the part of the former folder lies, until the new one has its name.
    pub fn former_part(&self, part: &str) -> Option<PathBuf> {
        let folder = self.target.join(part);
        (self.former.is_some() && folder.join(LIST).is_file()).then_some(folder)
    }

    /// The parts of the former folder; none where there was none, or one of a former version.
    pub fn former_parts(&self) -> BTreeSet<String> {
        let list = self.former.as_ref().and_then(|_| List::in_folder(&self.target));
        let names = list.into_iter().flat_map(|(list, _)| list.files.into_keys());
        names
            .filter_map(|name| Some(name.strip_suffix(LIST)?.strip_suffix('/')?.to_owned()))
            .collect()
    }

    /// Whether an earlier run left a part that was made of just that.
    pub fn has_part(&self, part: &str, from: &str) -> bool {
        self.left_by_earlier(part, from).is_some()
    }

    /// Where an earlier run left a part that was made of just that, and its list: a killed one in the new folder, or
    /// the one before in the former.
    fn left_by_earlier(&self, part: &str, from: &str) -> Option<(PathBuf, List)> {
        let begun = self.stopper.litter().fresh.clone();
        let places = begun.into_iter().chain(self.former.as_ref().map(|_| self.target.clone()));
        let mut lists = places.filter_map(|place| {
            let folder = place.join(part);
            let (list, _) = List::in_folder(&folder)?;
            (list.from.as_deref() == Some(from)).then_some((folder, list))
        });
        lists.next()
    }

    /// Where the files of a part grow.
    pub fn path(&self, part: &str) -> PathBuf {
        self.fresh.join(part)
    }

    /// Waits until all parts are on the disk; none comes after.
    ///
    /// # Errors
    /// What the disk refused.
    pub fn settle(&mut self) -> Result<(), FolderError> {
        self.writers.take().map_or(Ok(()), Writers::finish)
    }

    /// Takes a part over from an earlier run that made it of just that, and tells where it grows; none where there is no such part, whole.
    ///
    /// # Errors
    /// Where the disk refuses.
    pub fn keep_part(&self, part: &str, from: &str) -> Result<Option<PathBuf>, FolderError> {
        let Some((earlier, list)) = self.left_by_earlier(part, from) else { return Ok(None) };
        let _at_disk = self.stopper.at_disk();
        // Files of the former folder were held against its lists when it was claimed.
        let here = self.fresh.join(part);
        let is_here = earlier == here;
        let there = |name: &String| earlier.join(name).is_file();
        if !(if is_here { list.is_whole(&earlier) } else { list.files.keys().all(there) }) {
            return Ok(None);
        }
        let text = list.text();
        if is_here {
            make_own(&here)?;
            locked(&self.parts).insert(part.to_owned());
        } else {
            self.new_part(part)?;
            for name in list.files.keys() {
                take_over(&earlier.join(name), &here.join(name))?;
            }
            put(&here.join(LIST), text.as_bytes())?;
        }
        note_part(&self.list, part, &text);
        Ok(Some(here))
    }

    /// An empty part.
    fn new_part(&self, part: &str) -> Result<(), FolderError> {
        let folder = self.fresh.join(part);
        clear(&folder)?;
        at(&folder, fs::create_dir_all(&folder))?;
        make_own(&folder)?;
        locked(&self.parts).insert(part.to_owned());
        Ok(())
    }
}

/// Makes the joiner's own folder in a part, for photographs and notes.
fn make_own(part: &Path) -> Result<(), FolderError> {
    let own = part.join(OWN);
    match fs::create_dir(&own) {
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Ok(()),
        other => at(&own, other),
    }
}

/// Gives a file a second name, or copies it where the disk knows one only.
fn take_over(from: &Path, to: &Path) -> Result<(), FolderError> {
    if let Some(parent) = to.parent() {
        at(parent, fs::create_dir_all(parent))?;
    }
    if fs::hard_link(from, to).is_ok() {
        return Ok(());
    }
    put(to, &at(from, fs::read(from))?)
}

fn clear(folder: &Path) -> Result<(), FolderError> {
    match fs::remove_dir_all(folder) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => {
            Err(FolderError::Io { path: folder.into(), error })
        }
        _ => Ok(()),
    }
}

/// Writes a file that is not there yet.
///
/// # Errors
/// Where something of that name is there already, or the disk refuses; nothing is left half written.
pub fn write_file(target: &Path, content: &[u8]) -> Result<(), FolderError> {
    let mut file = match File::create_new(target) {
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            let why = "something of that name exists".to_owned();
            return Err(FolderError::NotOurs { folder: target.into(), why });
        }
        other => at(target, other)?,
    };
    let written = file.write_all(content).and_then(|()| file.sync_all());
    at(target, written).inspect_err(|_| {
        // It was ours from the first byte, so nobody misses it.
        let _ = fs::remove_file(target);
    })
}
