//! A home to look around in: the demonstration in a throw-away folder.

use crate::statistics::Dice;
use crate::storage::TempFolder;
use crate::storage::builtin_demo_files;
use crate::workflow::Clock;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The session among the files of the demonstration.
const SESSION: &str = "kitchen.toml";

/// Letters in the name of the folder: 100 bits, so that nobody else's folder has it.
const LETTERS: usize = 20;

impl Home {
    /// Opens a new home in a throw-away folder, with the demonstration in it. The folder goes, with
    /// everything that was done in it, when the second of the pair is dropped: keep it as long as
    /// the home.
    ///
    /// # Errors
    /// The folder cannot be made or written.
    pub fn demo(clock: Clock, mut dice: Dice) -> Result<(Self, TempFolder), WorkflowError> {
        let folder = TempFolder::make(&format!("thirdglass-demo-{}", dice.letters(LETTERS)))?;
        let mut home = Self::open(folder.path(), clock, dice)?;
        home.import_session(SESSION, builtin_demo_files())?;
        Ok((home, folder))
    }
}

#[cfg(test)]
mod tests {
    use std::os::unix::fs::PermissionsExt;

    use super::*;

    #[test]
    fn the_demonstration_is_private_and_leaves_nothing_behind() {
        let (home, folder) = Home::demo(Clock::system(), Dice::from_system().unwrap()).unwrap();
        let path = folder.path().to_owned();
        assert_eq!(home.folder(), Some(path.as_path()));
        let mode = std::fs::metadata(&path).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o700);
        assert_eq!(home.tasters().unwrap().len(), 3);
        drop((home, folder));
        assert!(!path.exists());
    }

    #[test]
    fn two_demonstrations_from_one_seed_stand_beside_each_other() {
        let demo = || Home::demo(Clock::system(), Dice::from_seed(7)).unwrap();
        let ((_, one), (_, other)) = (demo(), demo());
        assert_ne!(one.path(), other.path());
        assert!(one.path().is_dir() && other.path().is_dir());
    }

    #[test]
    fn what_is_done_in_one_demonstration_is_not_seen_in_another() {
        let (mut one, _kept) = Home::demo(Clock::system(), Dice::from_system().unwrap()).unwrap();
        let (other, _kept_too) = Home::demo(Clock::system(), Dice::from_system().unwrap()).unwrap();
        one.add_taster("Saucer").unwrap();
        assert_eq!(one.tasters().unwrap().len(), 4);
        assert_eq!(other.tasters().unwrap().len(), 3);
    }
}
