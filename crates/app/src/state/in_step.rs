//! A folder on this machine that is kept in step with the open plot: which one, and when to look.

use leptos::prelude::*;
use leptos::task::spawn_local;
use web_sys::FileSystemDirectoryHandle;

use super::{App, Origin, Saving, Standing};
use crate::work::mirror::{self, Mirror, NotInStep};
use files::FileSet;

/// Time for a few more scores before the folder is written.
const SOON_MS: i32 = 1_500;

/// How the folder stands to the plot.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum InStep {
    /// There is none.
    #[default]
    Nothing,
    /// The browser wants to be asked again before it may be written, on each visit.
    Asleep,
    /// It is being looked through and written.
    Working,
    /// It held every score at that moment, milliseconds since 1970.
    Since(u64),
    /// Nothing was written, in words.
    Trouble(String),
}

impl App {
    /// Keeps a folder in step from now on, which the person has just chosen.
    pub fn keep_in_step(self, folder: FileSystemDirectoryHandle) {
        let id = self.plot_id.get_value();
        self.mirror.set_value(Some(Mirror::new(folder.clone())));
        self.in_step.set(InStep::Working);
        self.step_soon(0);
        spawn_local(async move { mirror::remember(&id, Some(&folder)).await });
    }

    /// Keeps no folder in step any more; it stays as it is.
    pub fn leave_step(self) {
        let id = self.plot_id.get_value();
        self.mirror.set_value(None);
        self.in_step.set(InStep::Nothing);
        spawn_local(async move { mirror::remember(&id, None).await });
    }

    /// Asks the browser, on a person's tap, to let the folder be written again.
    pub fn wake_step(self) {
        let Some(folder) = self.mirrored() else { return };
        spawn_local(async move {
            if mirror::may_write(&folder, true).await {
                self.in_step.set(InStep::Working);
                self.step_soon(0);
            }
        });
    }

    /// The name of the folder that is kept in step.
    pub fn step_name(self) -> Option<String> {
        self.mirrored().map(|folder| folder.name())
    }

    /// Follows the scores, and the moments at which a person comes back to this page.
    pub(super) fn follow_steps(self) {
        Effect::new(move || {
            self.saving.with(|saving| (saving.kept, saving.outside.lacks));
            self.step_soon(SOON_MS);
        });
        let back = window_event_listener(leptos::ev::visibilitychange, move |_| self.step_soon(0));
        let focus = window_event_listener(leptos::ev::focus, move |_| self.step_soon(0));
        std::mem::forget((back, focus));
    }

    /// For another plot: the folder that was kept in step with it on an earlier visit, if any.
    pub(super) fn find_step(self, id: String) {
        self.plot_id.set_value(id.clone());
        self.mirror.set_value(None);
        self.in_step.set(InStep::Nothing);
        spawn_local(async move {
            let Some(folder) = mirror::remembered(&id).await else { return };
            let may = mirror::may_write(&folder, false).await;
            if self.plot_id.get_value() != id || self.mirrored().is_some() {
                return;
            }
            self.mirror.set_value(Some(Mirror::new(folder)));
            self.in_step.set(if may { InStep::Working } else { InStep::Asleep });
            self.step_soon(0);
        });
    }

    /// For the same plot under another name of the keeper's: its folder goes with it.
    pub(super) fn carry_step(self, id: String) {
        let earlier = self.plot_id.get_value();
        self.plot_id.set_value(id.clone());
        let Some(folder) = self.mirrored() else { return };
        spawn_local(async move {
            mirror::remember(&id, Some(&folder)).await;
            mirror::remember(&earlier, None).await;
        });
    }

    /// Takes a plot united with what the folder held in place of the open one. False: something
    /// happened meanwhile, so that it has to be united anew.
    pub async fn take_merged(self, files: FileSet, version: u64) -> bool {
        let is_quiet = self.saving.with_untracked(Saving::is_all_kept);
        is_quiet && self.put_in_place(files, version, &Origin::Merged).await
    }

    /// Counts the changes of the folder, decisions among them; does not follow.
    pub fn version_now(self) -> u64 {
        self.version.get_untracked() + self.decided.get_untracked()
    }

    /// The mirror, to be changed.
    pub fn with_mirror<R>(self, change: impl FnOnce(&mut Mirror) -> R) -> Option<R> {
        self.mirror.try_update_value(|mirror| mirror.as_mut().map(change)).flatten()
    }

    fn mirrored(self) -> Option<FileSystemDirectoryHandle> {
        self.mirror.with_value(|mirror| mirror.as_ref().map(Mirror::folder))
    }

    /// One look at a time; what comes meanwhile is done after it.
    fn step_soon(self, in_ms: i32) {
        let is_due = self.mirror.with_value(Option::is_some)
            && !matches!(self.in_step.get_untracked(), InStep::Nothing | InStep::Asleep);
        if !is_due || self.is_stepping.get_value() {
            self.step_again.set_value(is_due);
            return;
        }
        self.is_stepping.set_value(true);
        spawn_local(async move {
            let mut wait_ms = in_ms;
            loop {
                judge::pause(wait_ms).await;
                self.step_again.set_value(false);
                self.step().await;
                if !self.step_again.get_value() {
                    break;
                }
                wait_ms = SOON_MS;
            }
            self.is_stepping.set_value(false);
        });
    }

    async fn step(self) {
        let may = self
            .saving
            .with_untracked(|saving| saving.standing == Standing::Writing && saving.is_all_kept());
        if !may {
            return;
        }
        let version = self.version_now();
        let stepped = match crate::places::in_step().await {
            Ok(step) => step(self).await,
            Err(_) => return,
        };
        match stepped {
            Ok(()) => {
                if self.version_now() != version {
                    self.step_again.set_value(true);
                } else if self.saving.with_untracked(|saving| saving.outside.lacks > 0) {
                    self.copied();
                }
                self.in_step.set(InStep::Since(crate::work::clock::now_ms()));
            }
            Err(NotInStep::Again) => self.step_again.set_value(true),
            Err(NotInStep::Because(why)) => self.in_step.set(InStep::Trouble(why)),
        }
    }
}
