# What is measured of R: the bound of hits and misses as somebody would write it with care in plain R; one JSON line.
# Usage: Rscript peer_hits.R REPEATS. Only computation is timed: no start, no making of the rows. The rows come from the
# portable generator s <- 16807 s mod 2^31 - 1, the same on both sides.
compiler::enableJIT(3)

stream <- function(n, seed) {
  s <- seed
  u <- numeric(n)
  for (i in seq_len(n)) {
    s <- (16807 * s) %% 2147483647
    u[i] <- s / 2147483647
  }
  u
}

rows_of <- function(n, seed) {
  u <- stream(2 * n, seed)
  size <- 0.1 + 4.9 * u[seq(1, 2 * n, 2)]
  list(size = size, hit = as.numeric(u[seq(2, 2 * n, 2)] < plogis(-0.3 + 2.8 * log(size))))
}

# Newton steps of the logit; w: how often each row counts
fit <- function(x, y, w = 1, b = c(qlogis(mean(y)), 0)) {
  for (k in 1:50) {
    p <- plogis(b[1] + b[2] * x)
    u <- w * (y - p)
    h <- w * p * (1 - p)
    hx <- h * x
    h0 <- sum(h); h1 <- sum(hx); h2 <- sum(hx * x)
    u0 <- sum(u); u1 <- sum(u * x)
    det <- h0 * h2 - h1 * h1
    step <- c(h2 * u0 - h1 * u1, h0 * u1 - h1 * u0) / det
    b <- b + step
    if (max(abs(step)) < 1e-9) break
  }
  list(b = b, error = function(z) sqrt((h2 - 2 * z * h1 + z * z * h0) / det))
}

# bound of the place of a share by the profile of the likelihood: chi-square of one degree of freedom, one-sided 95 %
bound <- function(size, hit) {
  x <- log(size)
  middle <- mean(x)
  z <- x - middle
  f <- fit(z, hit)
  sign <- 2 * hit - 1
  likelihood <- function(eta) sum(plogis(sign * eta, log.p = TRUE))
  top <- likelihood(f$b[1] + f$b[2] * z)
  g <- qlogis(0.9)
  place <- (g - f$b[1]) / f$b[2]
  criterion <- qchisq(0.9, 1)
  slope <- f$b[2]
  beyond <- function(at) {
    d <- z - at
    for (k in 1:50) {
      p <- plogis(g + slope * d)
      step <- sum((hit - p) * d) / sum(p * (1 - p) * d * d)
      slope <<- slope + step
      if (abs(step) < 1e-7) break
    }
    2 * (top - likelihood(g + slope * d)) - criterion
  }
  way <- sqrt(criterion) * f$error(place) / f$b[2]
  root <- uniroot(beyond, place + way * c(0.8, 1.25), extendInt = "upX", tol = 1e-12)$root
  exp(middle + c(place, root))
}

# each resample by itself: all of them as columns of one matrix took 1.8 times as long
places <- function(counts, z, hit, start, g) {
  apply(counts, 2, function(w) {
    b <- fit(z, hit, w, start)$b
    (g - b[1]) / b[2]
  })
}

# bias-corrected and accelerated bound, 95 % one-sided, of the size found in 90 %
resampled <- function(size, hit, count, seed) {
  x <- log(size)
  middle <- mean(x)
  z <- x - middle
  n <- length(z)
  g <- qlogis(0.9)
  start <- fit(z, hit)$b
  index <- floor(stream(count * n, seed) * n)
  counts <- matrix(tabulate(index + n * rep(0:(count - 1), each = n) + 1, n * count), n)
  t0 <- (g - start[1]) / start[2]
  t <- places(counts, z, hit, start, g)
  out <- places(1 - diag(n), z, hit, start, g)
  z0 <- qnorm(mean(t < t0))
  l <- mean(out) - out
  a <- sum(l^3) / (6 * sum(l^2)^1.5)
  zl <- z0 + qnorm(0.95)
  level <- pnorm(z0 + zl / (1 - a * zl))
  c(exp(middle + c(t0, quantile(t, level, names = FALSE))), z0, a)
}

timed <- function(work) {
  invisible(gc())
  from <- proc.time()
  value <- work()
  to <- proc.time() - from
  list(value = value, seconds = to[["user.self"]] + to[["sys.self"]])
}
middle_of <- function(work, repeats) median(sapply(seq_len(repeats), function(k) timed(work)$seconds))

repeats <- as.integer(commandArgs(TRUE)[1])
many <- rows_of(100000, 20240607)
few <- rows_of(100, 20240608)
by_bound <- function() bound(many$size, many$hit)
by_resamples <- function() resampled(few$size, few$hit, 2000, 4242)
first <- list(timed(by_bound), timed(by_resamples))
numbers <- function(x) paste(sprintf("%.17g", x), collapse = ",")
answer <- c(sum(many$hit), sum(few$hit), first[[1]]$value, first[[2]]$value)
times <- c(sapply(first, function(f) f$seconds), middle_of(by_bound, repeats), middle_of(by_resamples, repeats))
names(times) <- c("bound_s", "resamples_s", "warmBound_s", "warmResamples_s")
cat(sprintf("{\"answer\": [%s], %s}\n", numbers(answer), paste(sprintf("\"%s\": %s", names(times), times), collapse = ", ")))
