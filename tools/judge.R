# What R makes of the trials in print: one line a figure, case, figure and value parted by tabs.
# Run by `python -m tools.judge_r`: Rscript tools/judge.R FOLDER_OF_TABLES FOLDER_TO_WRITE_SETS_TO

given <- commandArgs(trailingOnly = TRUE)
folder <- given[1]
out <- given[2]
say <- function(case, figure, value) {
  cat(sprintf("%s\t%s\t%.12g\n", case, figure, as.numeric(value)), sep = "")
}
has <- function(name) requireNamespace(name, quietly = TRUE)
version <- function(name) {
  cat(sprintf("version\t%s\t%s\n", name, as.character(packageVersion(name))))
}
cat(sprintf("version\tR\t%s\n", paste(R.version$major, R.version$minor, sep = ".")))
table_of <- function(name) read.csv(file.path(folder, name), stringsAsFactors = TRUE)

lines_of <- function(case, fitted) {
  made <- anova(fitted)
  for (at in seq_len(nrow(made))) {
    say(case, paste("ss", at), made[at, "Sum Sq"])
    say(case, paste("df", at), made[at, "Df"])
    if (!is.na(made[at, "F value"])) {
      say(case, paste("F", at), made[at, "F value"])
      say(case, paste("p", at), made[at, "Pr(>F)"])
    }
  }
}
tukey_of <- function(case, fitted, factor) {
  made <- TukeyHSD(aov(fitted), factor)[[factor]]
  for (pair in rownames(made)) {
    names <- sort(strsplit(pair, "-")[[1]])
    say(case, paste("tukey", names[1], names[2]), made[pair, "p adj"])
  }
}

immer <- table_of("immer.csv")
immer$Y <- (immer$Y1 + immer$Y2) / 2
lines_of("immer", lm(Y ~ Loc + Var, immer))
tukey_of("immer", lm(Y ~ Loc + Var, immer), "Var")

berries <- table_of("strawberry_yield.csv")
lines_of("strawberry", lm(yield ~ block + gen, berries))
tukey_of("strawberry", lm(yield ~ block + gen, berries), "gen")

short <- droplevels(berries[!(berries$block == "B2" & berries$gen == "E"), ])
fitted <- lm(yield ~ block + gen, short)
say("missing_plot", "ms", summary(fitted)$sigma^2)
say("missing_plot", "df", fitted$df.residual)
if (has("emmeans")) {
  version("emmeans")
  means <- emmeans::emmeans(fitted, "gen")
  say("missing_plot", "mean E", as.data.frame(means)$emmean[1])
  pairs <- as.data.frame(pairs(means))
  say("missing_plot", "sed E F", pairs$SE[pairs$contrast == "E - F"])
}

oats <- table_of("oats.csv")
made <- summary(aov(Y ~ V * N + Error(B / V), oats))
whole <- made[["Error: B:V"]][[1]]
within <- made[["Error: Within"]][[1]]
say("oats_splitplot", "F whole", whole[1, "F value"])
say("oats_splitplot", "F within", within[1, "F value"])
say("oats_splitplot", "F together", within[2, "F value"])
say("oats_splitplot", "ms whole", whole[2, "Mean Sq"])
say("oats_splitplot", "ms within", within[3, "Mean Sq"])
if (has("lme4")) {
  version("lme4")
  fitted <- lme4::lmer(Y ~ V * N + (1 | B / V), oats)
  made <- as.data.frame(lme4::VarCorr(fitted))
  for (at in seq_len(nrow(made))) say("oats_splitplot", paste("component", made$grp[at]), made$vcov[at])
  say("oats_splitplot", "reml", lme4::REMLcrit(fitted))
}

seeds <- table_of("seed_germination.csv")
fitted <- glm(cbind(germ, seeds - germ) ~ factor(temp) * factor(conc), binomial, seeds)
made <- anova(fitted)
for (at in 2:4) say("mead_germination", paste("deviance", at - 1), made[at, "Deviance"])
say("mead_germination", "deviance left", fitted$deviance)

insects <- c(0, 1, 7, 2, 3, 1, 2, 1, 3, 0, 1, 4)
if (has("MASS")) {
  version("MASS")
  fitted <- MASS::glm.nb(insects ~ 1, control = glm.control(maxit = 200, epsilon = 1e-12))
  say("insect_C_nb", "clumping", fitted$theta)
  say("insect_C_nb", "log-likelihood", as.numeric(logLik(fitted)))
}
for (hits in c(0, 1, 3)) {
  made <- binom.test(hits, 50)$conf.int
  say("binomial_ci", paste("exact low", hits), made[1])
  say("binomial_ci", paste("exact high", hits), made[2])
  say("binomial_ci", paste("flat low", hits), qbeta(0.025, hits + 0.5, 50 - hits + 0.5))
}
for (count in c(5, 20, 107)) {
  made <- poisson.test(count)$conf.int
  say("poisson_ci", paste("low", count), made[1])
  say("poisson_ci", paste("high", count), made[2])
}
for (repeats in c(3, 4, 6, 8)) {
  df <- 5 * (repeats - 1)
  away <- 15 / (10 * sqrt(2 / repeats))
  t <- qt(0.975, df)
  say("power", paste("repeats", repeats), 1 - pt(t, df, away) + pt(-t, df, away))
}

# Sets that only packages ship: written out for the other side to read.
keep <- function(set, name) write.csv(set, file.path(out, name), row.names = FALSE)
keep(datasets::InsectSprays, "insectsprays.csv")
lines_of("insect_sqrt", lm(sqrt(count) ~ spray, datasets::InsectSprays))
if (has("MASS")) {
  fitted <- MASS::glm.nb(count ~ spray, datasets::InsectSprays)
  say("insect_glm", "clumping", fitted$theta)
  say("insect_glm", "log-likelihood", as.numeric(logLik(fitted)))
  trees <- MASS::Sitka
  keep(trees, "sitka.csv")
  trees$when <- trees$Time - 150
  if (has("lme4")) {
    trees$fifty <- trees$when / 50
    fitted <- lme4::lmer(size ~ fifty * treat + (fifty | tree), trees)
    say("sitka_lines", "log-likelihood", as.numeric(logLik(fitted)))
    fixed <- lme4::fixef(fitted)
    for (at in seq_along(fixed)) say("sitka_lines", paste("figure", at), fixed[at])
  }
  if (has("nlme")) {
    fitted <- nlme::gls(size ~ when * treat, trees,
                        correlation = nlme::corCAR1(0.98, form = ~ when | tree))
    say("sitka_fading", "log-likelihood", as.numeric(logLik(fitted)))
    say("sitka_fading", "alike",
        coef(fitted$modelStruct$corStruct, unconstrained = FALSE))
  }
}
if (has("nlme")) {
  version("nlme")
  wheat <- as.data.frame(nlme::Wheat2)
  keep(wheat, "wheat2.csv")
  fitted <- nlme::gls(yield ~ variety, wheat, correlation = nlme::corRatio(
    c(12, 0.2), form = ~ latitude + longitude, nugget = TRUE))
  say("wheat2_spatial", "log-likelihood", as.numeric(logLik(fitted)))
  made <- coef(fitted$modelStruct$corStruct, unconstrained = FALSE)
  say("wheat2_spatial", "range", made[1])
  say("wheat2_spatial", "nugget", made[2])
}
if (has("ordinal")) {
  version("ordinal")
  wine <- ordinal::wine
  keep(wine, "wine_ordinal.csv")
  fitted <- ordinal::clm(rating ~ temp + contact, data = wine)
  say("wine", "warm", coef(fitted)["tempwarm"])
  say("wine", "contact", coef(fitted)["contactyes"])
  say("wine", "log-likelihood", as.numeric(logLik(fitted)))
  fitted <- ordinal::clmm(rating ~ temp + contact + (1 | judge), data = wine, nAGQ = 10)
  say("wine", "log-likelihood with judges", as.numeric(logLik(fitted)))
}
