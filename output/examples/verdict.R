# The verdict of a comparison again, from its files, with nothing but R.
#
# Rscript output/examples/verdict.R output/first-try-compare

folder <- commandArgs(trailingOnly = TRUE)[1]
summary <- paste(readLines(file.path(folder, "summary.json"), encoding = "UTF-8"), collapse = " ")
level <- as.numeric(sub('.*"level_of_each": ([0-9.]+).*', "\\1", summary))
sessions <- read.csv(file.path(folder, "sessions.csv"))
plans <- unique(sessions$plan)

# Weights by day: plans are fished on the same days, so that they are pairs.
kg <- function(plan) {
  rows <- sessions[sessions$plan == plan, ]
  rows$weight_g[order(rows$day)] / 1000
}

for (pair in combn(plans, 2, simplify = FALSE)) {
  a <- kg(pair[1])
  b <- kg(pair[2])
  test <- t.test(a, b, paired = TRUE, conf.level = level)
  # Every pair of two different days; equal weights count half.
  wins <- outer(a, b, ">") + 0.5 * outer(a, b, "==")
  other_days <- (sum(wins) - sum(diag(wins))) / (length(a) * (length(a) - 1))
  cat(sprintf(
    "%s - %s: %.3f kg, surely from %.3f to %.3f; ahead on %.1f %% of days, on another day %.1f %%\n",
    pair[1], pair[2], mean(a - b), test$conf.int[1], test$conf.int[2],
    100 * mean(a > b), 100 * other_days
  ))
}
