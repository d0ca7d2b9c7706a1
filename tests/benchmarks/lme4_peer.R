# The same model in lme4 on the single fruit: fit and conditional variances; prints processor seconds and the criterion.
args <- commandArgs(trailingOnly = TRUE)
suppressMessages(library(lme4))
d <- read.csv(args[1], stringsAsFactors = TRUE)
for (run in seq_len(as.integer(args[2]))) {
  t0 <- proc.time()
  m <- lmer(y ~ pick + (1 | cultivar) + (1 | cs) + (1 | cy) + (1 | csy) + (1 | env) + (1 | sample), data = d,
            control = lmerControl(calc.derivs = FALSE))
  r <- ranef(m, condVar = TRUE)
  t1 <- proc.time() - t0
  cat(sprintf("%.3f %.3f %.6f\n", t1["elapsed"], t1["user.self"] + t1["sys.self"], REMLcrit(m)))
}
