# The work of FitBenchmarkTest in R: median of warm runs, processor time in ms.
timed <- function(what, runs, work) {
    work()
    ms <- replicate(runs, 1000 * system.time(work())[["user.self"]])
    cat(sprintf("R %s: %s: median %.2f ms\n", getRversion(), what, median(ms)))
}

washes <- function(n, times) {
    set.seed(90210)
    t <- times(seq_len(n) - 1)
    p <- 0.98 * -expm1(-0.05 * t * exp(0.3 * rnorm(n)))
    m1 <- rbinom(n, 25, p)
    list(t = t, m1 = m1, m2 = 25 - m1)
}

# Exponential and Weibull curve, each with its profile interval for the time to 95 %.
fits <- function(w, q = 0.95) {
    n <- w$m1 + w$m2
    loglik <- function(p) sum(dbinom(w$m1, n, pmin(pmax(p, 1e-300), 1 - 1e-16), log = TRUE))
    e <- optimize(function(lk) loglik(-expm1(-exp(lk) * w$t)), c(-12, 3), maximum = TRUE, tol = 1e-10)
    crossing <- function(profile, best, at) {
        f <- function(lt) 2 * (best - profile(exp(lt))) - qchisq(0.95, 1)
        c(uniroot(f, c(log(at) - 4, log(at)), tol = 1e-8)$root, uniroot(f, c(log(at), log(at) + 4), tol = 1e-8)$root)
    }
    crossing(function(t) loglik(-expm1(log1p(-q) / t * w$t)), e$objective, -log1p(-q) / exp(e$maximum))
    x <- log(w$t)
    g <- glm(cbind(w$m1, w$m2) ~ x, family = binomial("cloglog"))
    C <- log(-log1p(-q))
    best <- as.numeric(logLik(g))
    profile <- function(t) as.numeric(logLik(glm(cbind(w$m1, w$m2) ~ 0 + I(x - log(t)), offset = rep(C, length(x)), family = binomial("cloglog"))))
    crossing(profile, best, exp((C - coef(g)[[1]]) / coef(g)[[2]]))
}

deals <- function(B = 9999) {
    set.seed(90210)
    m1 <- sample(8:27, 500, TRUE); m2 <- sample(0:5, 500, TRUE); op <- (seq_len(500) - 1) %% 5 + 1
    p <- sum(m1) / sum(m1 + m2)
    stat <- function(i) {
        X <- rowsum(m1[i], op); S <- rowsum(m1[i] + m2[i], op)
        sum((X - S * p)^2 / (S * p * (1 - p)))
    }
    seen <- stat(seq_len(500))
    (1 + sum(replicate(B, stat(sample.int(500))) >= seen * (1 - 1e-9))) / (B + 1)
}

timed("50 washes at 10 times, two curves with intervals", 20, function() fits(washes(50, function(i) 6 * (1 + i %% 10))))
timed("10,000 washes at 12 times, two curves with intervals", 3, function() fits(washes(10000, function(i) 10 * (1 + i %% 12))))
timed("9,999 deals of 500 washes between 5 operators", 3, function() deals())
