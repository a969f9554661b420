# Recomputes, with R and by other formulas than the program's, the values that tests/reference/data/statistics.json
# holds as `computed`. Reads the same CSV files, prints `name,value` lines.
#
#   Rscript .ci/reference.R tests/reference/data
suppressPackageStartupMessages(library(survival))
folder <- commandArgs(trailingOnly = TRUE)[1]
table_of <- function(name) read.csv(file.path(folder, paste0(name, ".csv")))
say <- function(name, value) cat(sprintf("%s,%.15g\n", name, value))
say_all <- function(name, values) for (i in seq_along(values)) say(paste0(name, ".", i - 1), values[i])

# Maximum by quasi-Newton, started again from where it stopped until it no longer moves.
maximise <- function(start, f) {
  control <- list(reltol = 1e-15, maxit = 2000, ndeps = rep(1e-5, length(start)), fnscale = -1)
  for (round in 1:4) start <- optim(start, f, method = "BFGS", control = control)$par
  fit <- optim(start, f, method = "Nelder-Mead", control = list(reltol = 1e-16, maxit = 5000, fnscale = -1))
  fit <- optim(fit$par, f, method = "BFGS", control = control, hessian = TRUE)
  list(par = fit$par, value = fit$value, hessian = optimHess(fit$par, f, control = list(ndeps = rep(1e-4, length(start)))))
}

# Weibull, right-censored: survreg's location and log scale are log scale and minus log shape.
say_survreg <- function(name, fit) {
  say(paste0(name, ".shape"), 1 / fit$scale)
  say(paste0(name, ".scale"), exp(coef(fit)[[1]]))
  say(paste0(name, ".logLikelihood"), fit$loglik[1])
  v <- vcov(fit)
  say(paste0(name, ".varianceLogScale"), v[1, 1])
  say(paste0(name, ".covariance"), -v[1, 2])
  say(paste0(name, ".varianceLogShape"), v[2, 2])
}
tight <- survreg.control(rel.tolerance = 1e-13, maxiter = 200)
nist <- table_of("nist-weibull")
say_survreg("nistWeibull", survreg(Surv(time, event) ~ 1, nist, control = tight))
cage <- table_of("bearing-cage")
cage_fit <- survreg(Surv(time, event) ~ 1, cage, weights = count, control = tight)
say_survreg("bearingCage", cage_fit)
say("bearingCage.b10", predict(cage_fit, newdata = data.frame(time = 1), type = "quantile", p = 0.1)[[1]])

ratio_ends <- function(value, best, profile, low, high) {
  off <- function(log_x) profile(exp(log_x)) - (best - qchisq(0.95, 1) / 2)
  exp(c(uniroot(off, log(c(low, value)), tol = 1e-12)$root, uniroot(off, log(c(value, high)), tol = 1e-12)$root))
}
cage_likelihood <- function(scale, shape) {
  z <- shape * (log(cage$time) - log(scale))
  sum(cage$count * (cage$event * (log(shape) - log(cage$time) + z) - exp(z)))
}
over_shape <- function(scale_of) {
  f <- function(log_shape) cage_likelihood(scale_of(exp(log_shape)), exp(log_shape))
  optimize(f, c(-3, 3), maximum = TRUE, tol = 1e-10)$objective
}
b10_profile <- function(b10) over_shape(function(shape) b10 / (-log(0.9))^(1 / shape))
shape_profile <- function(shape) {
  scale <- (sum(cage$count * cage$time^shape) / sum(cage$count * cage$event))^(1 / shape)
  cage_likelihood(scale, shape)
}
b10 <- predict(cage_fit, newdata = data.frame(time = 1), type = "quantile", p = 0.1)[[1]]
say_all("bearingCage.b10Ratio", ratio_ends(b10, cage_fit$loglik[1], b10_profile, 500, 1e6))
say_all("bearingCage.shapeRatio", ratio_ends(1 / cage_fit$scale, cage_fit$loglik[1], shape_profile, 0.2, 20))

# More lives, right-censored; two modes of failure, each with the other as censoring.
shock_life <- table_of("shock-absorber")
say_survreg("shockAbsorberLife", survreg(Surv(distance, cause > 0) ~ 1, shock_life, control = tight))
say_survreg("shockAbsorberMode1", survreg(Surv(distance, cause == 1) ~ 1, shock_life, control = tight))
say_survreg("shockAbsorberMode2", survreg(Surv(distance, cause == 2) ~ 1, shock_life, control = tight))
say_survreg("ballBearing", survreg(Surv(time, event) ~ 1, table_of("ball-bearing"), control = tight))
say_survreg("dieselFan", survreg(Surv(time, event) ~ 1, table_of("diesel-fan"), weights = count, control = tight))
say_survreg("locomotiveControl", survreg(Surv(time, event) ~ 1, table_of("locomotive-control"), weights = count, control = tight))

# Failures known only to lie between two inspections, or before one.
between <- function(rows) Surv(ifelse(rows$after == 0, NA, rows$after), ifelse(rows$event == 1, rows$time, NA), type = "interval2")
for (each in list(c("heatExchanger", "heat-exchanger"), c("turbineWheel", "turbine-wheel"))) {
  rows <- table_of(each[2])
  say_survreg(each[1], survreg(between(rows) ~ 1, weights = rows$count, control = tight))
}

# Two classes: a scale for each, then a shape for each too.
remission <- table_of("six-mp")
both <- survreg(Surv(time, event) ~ treated, remission, control = tight)
say("sixMp.logScale", coef(both)[[1]])
say("sixMp.treated", coef(both)[[2]])
say("sixMp.sigma", both$scale)
say("sixMp.logLikelihood", both$loglik[2])
say("sixMp.varianceLogScale", vcov(both)[1, 1])
say("sixMp.varianceLogShape", vcov(both)[3, 3])
say("sixMp.null", both$loglik[1])
apart <- survreg(Surv(time, event) ~ treated + strata(treated), remission, control = tight)
say("sixMpStrata.logScale", coef(apart)[[1]])
say("sixMpStrata.treated", coef(apart)[[2]])
say_all("sixMpStrata.sigma", apart$scale)
say("sixMpStrata.logLikelihood", apart$loglik[2])
# A hazard in pieces: weeks 0-5, 6-10, 11 and later, each with its time watched as offset.
pieces <- survSplit(Surv(time, event) ~ treated, remission, cut = c(5, 10), episode = "piece")
pieces$length <- pieces$time - pieces$tstart
hazard <- glm(event ~ factor(piece) + treated + offset(log(length)), poisson, pieces, control = glm.control(epsilon = 1e-14))
say_all("sixMpPieces.coefficient", coef(hazard))
say_all("sixMpPieces.variance", diag(vcov(hazard)))
# The same with a penalty on the treatment, sd 0.5: maximum by quasi-Newton.
x <- model.matrix(hazard)
held <- maximise(coef(hazard), function(b) {
  eta <- drop(x %*% b) + log(pieces$length)
  sum(pieces$event * eta - exp(eta)) - b[4]^2 / (2 * 0.5^2)
})
say_all("sixMpPieces.held", held$par)

# Bearing cages with a prior on the log shape: mode, and survival averaged over the posterior on a fine grid.
cage_posterior <- function(p) {
  shape <- exp(p[2])
  z <- shape * (log(cage$time) - p[1])
  sum(cage$count * (cage$event * (p[2] - log(cage$time) + z) - exp(z))) + dnorm(p[2], log(2), 0.3, log = TRUE)
}
mode <- maximise(c(9.4, 0.7), cage_posterior)
say("bearingCagePrior.scale", exp(mode$par[1]))
say("bearingCagePrior.shape", exp(mode$par[2]))
log_shapes <- seq(-1, 2.2, length.out = 500)
log_scales <- seq(7.5, 18, length.out = 900)
density <- outer(log_scales, log_shapes, Vectorize(function(u, b) cage_posterior(c(u, b))))
density <- exp(density - max(density))
for (t in c(500, 2000, 10000)) {
  survived <- outer(log_scales, log_shapes, function(u, b) exp(-exp(exp(b) * (log(t) - u))))
  say(paste0("bearingCagePrior.survival", t), sum(density * survived) / sum(density))
}

# Weibull, left-truncated: straight from dweibull and pweibull.
truncated <- function(p, entry, exit, event) {
  shape <- exp(p[2]); scale <- exp(p[1])
  sum(ifelse(event == 1, dweibull(exit, shape, scale, log = TRUE), pweibull(exit, shape, scale, FALSE, TRUE))) -
    sum(pweibull(entry, shape, scale, FALSE, TRUE))
}
say_truncated <- function(name, lives, start) {
  fit <- maximise(start, function(p) truncated(p, lives$entry, lives$time, lives$event))
  say(paste0(name, ".shape"), exp(fit$par[2]))
  say(paste0(name, ".scale"), exp(fit$par[1]))
  say(paste0(name, ".logLikelihood"), fit$value)
  ignoring <- survreg(Surv(time, event) ~ 1, lives, control = tight)
  say(paste0(name, "Untruncated.shape"), 1 / ignoring$scale)
  say(paste0(name, "Untruncated.scale"), exp(coef(ignoring)[[1]]))
}
say_truncated("circuitBreaker", table_of("circuit-breaker"), c(4.4, 1.3))
say_truncated("powerTransformer", table_of("power-transformer"), c(4.4, 1.2))
psych <- table_of("psych")
fit <- maximise(c(4.2, 2.1), function(p) truncated(p, psych$entry, psych$exit, psych$event))
say("psych.shape", exp(fit$par[2]))
say("psych.scale", exp(fit$par[1]))
say("psych.logLikelihood", fit$value)
v <- solve(-fit$hessian)
say("psych.varianceLogScale", v[1, 1])
say("psych.covariance", v[1, 2])
say("psych.varianceLogShape", v[2, 2])
both_sexes <- function(p) {
  scale <- exp(p[1] + p[3] * psych$female)
  shape <- exp(p[2])
  sum(ifelse(psych$event == 1, dweibull(psych$exit, shape, scale, log = TRUE), pweibull(psych$exit, shape, scale, FALSE, TRUE))) -
    sum(pweibull(psych$entry, shape, scale, FALSE, TRUE))
}
fit <- maximise(c(4.2, 2.1, 0), both_sexes)
say("psychBySex.logScale", fit$par[1])
say("psychBySex.logShape", fit$par[2])
say("psychBySex.female", fit$par[3])
say("psychBySex.logLikelihood", fit$value)

# What is left to a unit of age 300 of the NIST lives, averaged over all parameters (log scale and log shape uniform).
nist_likelihood <- function(u, b) {
  z <- exp(b) * (log(nist$time) - u)
  sum(nist$event * (b - log(nist$time) + z) - exp(z))
}
log_shapes <- seq(-2, 2.2, length.out = 500)
log_scales <- seq(5, 14, length.out = 1500)
density <- outer(log_scales, log_shapes, Vectorize(nist_likelihood))
density <- exp(density - max(density))
for (t in c(28, 182, 560)) {
  left <- outer(log_scales, log_shapes, function(u, b) exp(exp(exp(b) * (log(300) - u)) - exp(exp(b) * (log(300 + t) - u))))
  say(paste0("nistRemaining.survival", t), sum(density * left) / sum(density))
}

# Kaplan-Meier.
say_km <- function(name, response) {
  s <- summary(survfit(response ~ 1, conf.type = "log-log"))
  falls <- s$n.event > 0
  say_all(paste0(name, ".time"), s$time[falls])
  say_all(paste0(name, ".atRisk"), s$n.risk[falls])
  say_all(paste0(name, ".survival"), s$surv[falls])
  left <- falls & s$surv > 0
  say_all(paste0(name, ".standardError"), s$std.err[left])
  say_all(paste0(name, ".low"), s$lower[left])
  say_all(paste0(name, ".high"), s$upper[left])
}
lives <- table_of("nist-kaplan-meier")
say_km("nistKaplanMeier", Surv(lives$time, lives$event))
lives <- table_of("delayed-entry")
say_km("delayedEntry", Surv(lives$entry, lives$exit, lives$event))
treated <- table_of("six-mp")
treated <- treated[treated$treated == 1, ]
say_km("sixMpKaplanMeier", Surv(treated$time, treated$event))
say_km("psychKaplanMeier", Surv(psych$entry, psych$exit, psych$event))

# Theil-Sen and Mann-Kendall by their formulas.
score_variance <- function(y) {
  n <- length(y); g <- as.numeric(table(y))
  (n * (n - 1) * (2 * n + 5) - sum(g * (g - 1) * (2 * g + 5))) / 18
}
say_trend <- function(name, t, y) {
  n <- length(y)
  slopes <- sort((outer(y, y, "-") / outer(t, t, "-"))[lower.tri(diag(n))])
  s <- sum(sign(outer(y, y, "-"))[lower.tri(diag(n))])
  variance <- score_variance(y)
  reach <- qnorm(0.975) * sqrt(variance)
  at <- function(rank) approx(seq_along(slopes), slopes, rank)$y
  slope <- median(slopes)
  z <- (s - sign(s)) / sqrt(variance)
  say(paste0(name, ".slope"), slope)
  say(paste0(name, ".intercept"), median(y) - slope * median(t))
  say(paste0(name, ".low"), at((length(slopes) - reach) / 2))
  say(paste0(name, ".high"), at((length(slopes) + reach) / 2 + 1))
  say(paste0(name, ".score"), s)
  say(paste0(name, ".variance"), variance)
  say(paste0(name, ".z"), z)
  say(paste0(name, ".pValue"), 2 * pnorm(-abs(z)))
  # Hamed & Rao, with all lags and with lags up to the cube root of n.
  r <- acf(rank(y - slope * t), lag.max = n - 1, plot = FALSE)$acf[-1]
  r[abs(r) <= qnorm(0.975) / sqrt(n)] <- 0
  i <- 1:(n - 1)
  terms <- (n - i) * (n - i - 1) * (n - i - 2) * r
  for (rule in c("AllLags", "FewLags")) {
    kept <- if (rule == "AllLags") i else seq_len(floor(n^(1 / 3)))
    corrected <- variance * max(1, 1 + 2 / (n * (n - 1) * (n - 2)) * sum(terms[kept]))
    say(paste0(name, ".variance", rule), corrected)
    say(paste0(name, ".z", rule), (s - sign(s)) / sqrt(corrected))
  }
}
outlier <- table_of("one-outlier")
say_trend("oneOutlier", outlier$t, outlier$y)
sulfate <- table_of("sulfate")
say_trend("sulfate", sulfate$t, sulfate$y)
nile <- table_of("nile")$y
say_trend("nile", seq_along(nile), nile)
say_all("nile.quantile", quantile(nile, c(0.1, 0.5, 0.9), names = FALSE))
say("nile.mad", mad(nile, constant = 1))

# First passage: the inverse Gaussian by integrating its density, the random drift by integrating over the drift.
log_density <- function(t, mean, shape) 0.5 * log(shape / (2 * pi * t^3)) - shape * (t - mean)^2 / (2 * mean^2 * t)
rows <- table_of("inverse-gaussian")
for (i in seq_len(nrow(rows))) {
  f <- function(t) exp(log_density(t, rows$mean[i], rows$shape[i]))
  say(paste0("inverseGaussian.cdf.", i - 1), integrate(f, 0, rows$t[i], rel.tol = 1e-11, subdivisions = 2000)$value)
}
tail <- function(t) exp(log_density(t, 1, 500) - log_density(10, 1, 500))
say("inverseGaussianOverflow.logSurvival", log_density(10, 1, 500) + log(integrate(tail, 10, 20, rel.tol = 1e-11)$value))
rows <- table_of("random-drift")
passage <- function(t, d, nu, s2) {
  exp(pnorm((nu * t - d) / sqrt(s2 * t), log.p = TRUE)) +
    exp(2 * nu * d / s2 + pnorm(-(nu * t + d) / sqrt(s2 * t), log.p = TRUE))
}
for (i in seq_len(nrow(rows))) {
  r <- rows[i, ]
  f <- function(nu) passage(r$t, r$distance, nu, r$diffusion) * dnorm(nu, r$drift, r$driftSd)
  ends <- r$drift + c(-1, 1) * 12 * r$driftSd
  say(paste0("randomDrift.cdf.", i - 1), integrate(f, ends[1], ends[2], rel.tol = 1e-12, subdivisions = 5000)$value)
}

# Laser degradation: the likelihood with whole covariance matrices.
laser <- table_of("laser")
steps <- lapply(split(laser, laser$unit), function(unit) list(run = diff(unit$hours), rise = diff(unit$increase)))
laser_likelihood <- function(p) {
  mu <- p[1] / 1000; tau <- exp(p[2]); s2 <- exp(p[3])
  sum(sapply(steps, function(unit) {
    v <- diag(s2 * unit$run) + tau^2 * outer(unit$run, unit$run)
    e <- unit$rise - mu * unit$run
    -0.5 * (length(e) * log(2 * pi) + determinant(v)$modulus[1] + sum(e * solve(v, e, tol = 0)))
  }))
}
fit <- maximise(c(2, log(4e-4), log(1e-4)), laser_likelihood)
say("laser.drift", fit$par[1] / 1000)
say("laser.driftSd", exp(fit$par[2]))
say("laser.diffusion", exp(fit$par[3]))
say("laser.logLikelihood", fit$value)

# All lasers alike: independent normal steps.
rise <- unlist(lapply(steps, `[[`, "rise"))
run <- unlist(lapply(steps, `[[`, "run"))
alike <- sum(rise) / sum(run)
noise <- mean((rise - alike * run)^2 / run)
say("laserAlike.drift", alike)
say("laserAlike.diffusion", noise)
say("laserAlike.logLikelihood", sum(dnorm(rise, alike * run, sqrt(noise * run), log = TRUE)))
# The drift of unit 110 after 2000 h under all populations: flat in drift and its spread, 1/s2 in the diffusion.
grid <- expand.grid(mu = seq(0.0012, 0.0029, length.out = 61), tau = seq(1e-5, 1.6e-3, length.out = 160), log_s2 = seq(-9.5, -8.6, length.out = 31))
s2 <- exp(grid$log_s2)
weight <- 0
for (unit in steps) {
  time <- sum(unit$run)
  off <- sum(unit$rise) - grid$mu * time
  spread <- s2 + grid$tau^2 * time
  scatter <- 0
  for (i in seq_along(unit$run)) scatter <- scatter + (unit$rise[i] - grid$mu * unit$run[i])^2 / unit$run[i]
  weight <- weight - 0.5 * (length(unit$run) * grid$log_s2 + log(spread / s2) + scatter / s2 - grid$tau^2 * off^2 / (s2 * spread))
}
weight <- exp(weight - max(weight))
total <- 2000 * grid$tau^2 + s2
mean110 <- (6.256 * grid$tau^2 + grid$mu * s2) / total
middle <- sum(weight * mean110) / sum(weight)
say("laserPopulation.drift", middle)
say("laserPopulation.driftSd", sqrt(sum(weight * (grid$tau^2 * s2 / total + (mean110 - middle)^2)) / sum(weight)))

# Huber's M-estimator by reweighted lm.wfit, scale the median absolute residual over 0.6745.
stack <- table_of("stack-loss")
x <- cbind(1, stack$air, stack$water, stack$acid)
residuals <- lm.fit(x, stack$loss)$residuals
for (round in 1:500) {
  scale <- median(abs(residuals)) / qnorm(0.75)
  fit <- lm.wfit(x, stack$loss, pmin(1, 1.345 * scale / abs(residuals)))
  residuals <- stack$loss - drop(x %*% fit$coefficients)
}
say_all("stackLoss.coefficient", fit$coefficients)
say("stackLoss.scale", scale)

# Distribution functions of R itself.
say_all("normal.cdf", pnorm(c(-30, -8, -3, -1, -0.3, 0.5, 2, 6)))
say_all("normal.logCdf", pnorm(c(-1000, -40, -10, -5.5, -0.6, 0.4, 3, 9), log.p = TRUE))
say_all("normal.quantile", qnorm(c(1e-300, 1e-10, 0.025, 0.3, 0.5, 0.9, 0.999)))
say_all("logGamma", lgamma(c(0.01, 0.3, 1.5, 2, 7.25, 171.5)))
say_all("weibull.conditionalFailure", 1 - pweibull(600 + c(30, 90), 2.5, 1000, FALSE) / pweibull(600, 2.5, 1000, FALSE))

# Scores of forecasts: survival's concordance for both C-indices, the rest by their formulas.
censoring_curve <- function(time, event) {
  fit <- survfit(Surv(time, 1 - event) ~ 1)
  function(t, left = FALSE) sapply(t, function(each) {
    before <- if (left) fit$time < each else fit$time <= each
    if (any(before)) fit$surv[max(which(before))] else 1
  })
}
weights_at <- function(time, event, horizon) {
  g <- censoring_curve(time, event)
  ifelse(time > horizon, 1 / g(horizon), ifelse(event == 1, 1 / g(time, left = TRUE), 0))
}
c_index <- function(time, event, score, weight = "n", until = Inf) {
  # Failures from `until` on do not count, strictly: watched up to just before.
  concordance(Surv(time, event) ~ score, reverse = TRUE, timewt = weight, ymax = until * (1 - 1e-9))$concordance[[1]]
}
say_forecast <- function(name, time, event, p, horizon) {
  w <- weights_at(time, event, horizon)
  failed <- as.numeric(time <= horizon)
  left <- summary(survfit(Surv(time, event) ~ 1), times = horizon)$surv
  brier <- mean(w * (p - failed)^2)
  constant <- mean(w * (1 - left - failed)^2)
  say(paste0(name, ".brier"), brier)
  say(paste0(name, ".constant"), constant)
  say(paste0(name, ".skill"), 1 - brier / constant)
  cases <- failed == 1 & w > 0
  controls <- time > horizon
  right <- outer(p[cases], p[controls], ">") + 0.5 * outer(p[cases], p[controls], "==")
  say(paste0(name, ".auc"), sum(w[cases] * rowMeans(right)) / sum(w[cases]))
  say(paste0(name, ".observed"), sum(w * failed))
  say(paste0(name, ".expected"), sum(p))
}
ten <- table_of("ten-lives")
say("tenLives.harrell", c_index(ten$time, ten$event, ten$risk))
for (until in c(5, 7.5, 8.5)) say(paste0("tenLives.uno", until), c_index(ten$time, ten$event, ten$risk, "n/G2", until))
say_all("tenLives.weight", weights_at(ten$time, ten$event, 5))
say_forecast("tenLives", ten$time, ten$event, ten$risk, 5)
seven <- table_of("seven-lives")
say("sevenLives.harrell", c_index(seven$time, seven$event, seven$score))
say("sevenLives.uno", c_index(seven$time, seven$event, seven$score, "n/G2"))
lives <- table_of("forecast-lives")
say("forecastLives.harrell", c_index(lives$time, lives$event, lives$p))
say("forecastLives.uno90", c_index(lives$time, lives$event, lives$p, "n/G2", 90))
say_forecast("forecastLives", lives$time, lives$event, lives$p, 90)
lives$w <- weights_at(lives$time, lives$event, 90)
lives$failed <- as.numeric(lives$time <= 90)
exact <- glm.control(epsilon = 1e-14, maxit = 100)
line <- glm(failed ~ qlogis(p), quasibinomial, lives, weights = w, subset = w > 0, control = exact)
say("forecastLives.slope", coef(line)[[2]])
line <- glm(failed ~ offset(qlogis(p)), quasibinomial, lives, weights = w, subset = w > 0, control = exact)
say("forecastLives.intercept", coef(line)[[1]])
edges <- c(-Inf, unique(quantile(lives$p, c(0.2, 0.4, 0.6, 0.8), names = FALSE)), Inf)
groups <- split(lives, cut(lives$p, edges))
say_all("forecastLives.groupForecast", sapply(groups, function(own) mean(own$p)))
say_all("forecastLives.groupObserved", sapply(groups, function(own) {
  1 - summary(survfit(Surv(time, event) ~ 1, own), times = 90, extend = TRUE)$surv
}))
# Window coverage on a scale of its own: ends over the longest time.
scale <- survfit(Surv(lives$time / 300, lives$event) ~ 1)
left_before <- function(at) min(1, scale$surv[scale$time < at])
say("forecastLives.before", 1 - left_before(0.1))
say("forecastLives.inside", left_before(0.1) - left_before(0.6))
say_all("chiSquare", pchisq(c(0.5, 3.4208, 30, 200), c(3, 9, 9, 40), lower.tail = FALSE))

# Competing causes: survfit's multi-state curve.
shock <- table_of("shock-absorber")
curve <- survfit(Surv(distance, factor(cause)) ~ 1, shock)
at <- summary(curve, times = c(10000, 20000, 25000, 27500))$pstate
say_all("shockAbsorber.incidence1", at[, 2])
say_all("shockAbsorber.incidence2", at[, 3])
# The same estimator with delayed entry: five lives of two causes.
late <- table_of("delayed-entry")
late$cause <- c(1, 2, 1, 2, 1)
late$id <- 1:5
curve <- survfit(Surv(entry, exit, factor(cause, levels = 0:2)) ~ 1, late, id = id)
at <- summary(curve, times = c(2, 3, 4, 5, 10))$pstate
say_all("delayedCauses.incidence1", at[, 2])
say_all("delayedCauses.incidence2", at[, 3])
