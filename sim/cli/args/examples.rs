//! Examples at the end of the help of each command. A test checks that each one is understood.

pub(super) const COMPARE: &str = "Examples:
  shoalwise compare first-try.toml
  shoalwise compare first-try.toml --set plan.every-two.recast=90s
  shoalwise compare first-try.toml --vary \"plan.every-two.recast=1..10 min/10\"
  shoalwise compare first-try.toml --days 400 --json --out -
  shoalwise compare summer.toml winter.toml --plan summer/patient --plan winter/patient";

pub(super) const BEST: &str = "Examples:
  shoalwise best first-try.toml
  shoalwise best first-try.toml --vary \"plan.every-two.recast=30 s..10 min/40 log\"
  shoalwise best first-try.toml --aim \"target=20 lb\"";

pub(super) const SWEEP: &str = "Examples:
  shoalwise sweep first-try.toml --vary \"plan.every-two.recast=1..10 min/10\"
  shoalwise sweep first-try.toml --vary shoal.residents.count=20..200 --points 64
  shoalwise sweep first-try.toml --vary shoal.residents.count=20,60 --part 1/2";

pub(super) const MERGE: &str = "Example:
  shoalwise merge output/first-try-sweep-part-1-of-2 output/first-try-sweep-part-2-of-2";

pub(super) const CHECK: &str = "Examples:
  shoalwise check first-try.toml
  shoalwise check - --json < first-try.toml";

pub(super) const REPLAY: &str = "Examples:
  shoalwise replay first-try.toml --plan every-two --day 1
  shoalwise replay first-try.toml --plan every-two --day 1 --from-the-bank";

pub(super) const CARD: &str = "Example:
  shoalwise card first-try.toml --plan every-two";

pub(super) const LEARN: &str = "Examples:
  shoalwise learn my-log.csv
  shoalwise learn --template my-log.csv";

pub(super) const NOW: &str = "Example:
  shoalwise now first-try.toml --log my-log.csv --plan every-two";

pub(super) const LOG: &str = "Example:
  shoalwise log my-log.csv --session \"Sunday on the big lake\"";

pub(super) const PAGE: &str = "Examples:
  shoalwise page first-try.toml
  shoalwise page --no-open --port 8080";

pub(super) const PARAMS: &str = "Examples:
  shoalwise params
  shoalwise params --json";

pub(super) const NEW: &str = "Examples:
  shoalwise new my-water
  shoalwise new my-water --distance \"30 yd\" --fish 200 --weight \"3 lb\"";

pub(super) const SCHEMA: &str = "Examples:
  shoalwise schema > scenario.schema.json
  shoalwise schema summary.json
  shoalwise schema sessions.csv --describe";

pub(super) const COMPLETIONS: &str = "Examples:
  shoalwise completions bash > ~/.local/share/bash-completion/completions/shoalwise
  shoalwise completions zsh > ~/.zfunc/_shoalwise
  shoalwise completions fish > ~/.config/fish/completions/shoalwise.fish
  shoalwise completions powershell >> $PROFILE";

pub(super) const MAN: &str = "Example:
  shoalwise man ~/.local/share/man/man1";
