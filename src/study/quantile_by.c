/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/quantile_by.h"

#include "advice/ensemble.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define WIDE    0.3  /* of ln y: how blunt the kink of the loss is at first, */
#define NARROW  1e-4 /* and at last */
#define SHARPER 0.8  /* a round */
enum {
    TERMS = 4,   /* of the polynomial */
    ROUNDS = 80, /* 0.3 * 0.8^36 is narrow: the rest settles */
    A_TERM = 100 /* pairs for each term: five in a low tail of a twentieth */
};

/* The pairs that are smoothed. */
struct curve {
    size_t n;
    double p;
    double share; /* of a pair that each is worth */
    double *term; /* n * TERMS: Hermite polynomials of the normal score */
    double *ln;   /* n: of y */
    double *room; /* n */
    double b[TERMS];
};

static double value_of(const struct curve *c, size_t i, const double *b, int terms)
{
    double sum = 0.0;
    for (int k = 0; k < terms; k++)
        sum += b[k] * c->term[i * TERMS + (size_t)k];
    return sum;
}

/* Mean loss of a quantile: Koenker and Bassett, Econometrica 46 (1978) 33. */
static double loss_of(const struct curve *c, const double *b, int terms)
{
    double sum = 0.0;
    for (size_t i = 0; i < c->n; i++) {
        const double miss = c->ln[i] - value_of(c, i, b, terms);
        sum += miss * (c->p - (miss < 0.0));
    }
    return sum / (double)c->n;
}

/* One round: the loss is held up by a parabola at each pair, and their sum is least there. */
static void improve(const struct curve *c, double blunt, double *b, int terms)
{
    double a[TERMS * TERMS] = {0}, right[TERMS] = {0};
    for (size_t i = 0; i < c->n; i++) {
        const double *t = &c->term[i * TERMS];
        const double weight = 1.0 / (blunt + fabs(c->ln[i] - value_of(c, i, b, terms)));
        for (int k = 0; k < terms; k++) {
            right[k] += t[k] * (weight * c->ln[i] + 2.0 * c->p - 1.0);
            for (int j = 0; j <= k; j++)
                a[k * terms + j] += weight * t[k] * t[j];
        }
    }
    gsl_matrix_view matrix = gsl_matrix_view_array(a, (size_t)terms, (size_t)terms);
    gsl_vector_view vector = gsl_vector_view_array(right, (size_t)terms);
    if (gsl_linalg_cholesky_decomp1(&matrix.matrix) == 0 &&
        gsl_linalg_cholesky_svx(&matrix.matrix, &vector.vector) == 0)
        memcpy(b, right, (size_t)terms * sizeof *b);
}

/* The quantile of what is missed, by which the curve is then moved. Sorts the misses. */
static double level(const struct curve *c, const double *b, int terms)
{
    for (size_t i = 0; i < c->n; i++)
        c->room[i] = c->ln[i] - value_of(c, i, b, terms);
    return hb_quantile(c->room, c->n, c->p);
}

/* What a term has to lower the logarithm of the loss by: half of ln n, as likelihoods have it,
 * times p (1 - p) over the density there and over the loss (Koenker and Machado, J. Am. Stat.
 * Assoc. 94 (1999) 1296), which is 1 for the law whose likelihood the loss would be. The misses are
 * sorted. */
static double price_of(const struct curve *c, double loss)
{
    const double n = (double)c->n, worth = fmax(c->share * n, 3.0);
    const double low = c->room[(size_t)(0.5 * c->p * (n - 1.0))];
    const double high = c->room[(size_t)(1.5 * c->p * (n - 1.0))];
    const double spacing = (high - low) / c->p; /* one over the density */
    return 0.5 * log(worth) / worth * fmax(c->p * (1.0 - c->p) * spacing / loss, 1.0);
}

/* More terms as long as they pay. */
static void choose(struct curve *c)
{
    double b[TERMS] = {0};
    b[0] = level(c, b, 1);
    memcpy(c->b, b, sizeof b);
    const double loss = fmax(loss_of(c, b, 1), 1e-12), price = price_of(c, loss);
    double best = log(loss) + price;
    for (int terms = 2; terms <= TERMS && c->share * (double)c->n >= terms * A_TERM; terms++) {
        double blunt = WIDE;
        for (int k = 0; k < ROUNDS; k++, blunt = fmax(blunt * SHARPER, NARROW))
            improve(c, blunt, b, terms);
        b[0] += level(c, b, terms);
        const double worth = log(fmax(loss_of(c, b, terms), 1e-12)) + price * terms;
        if (worth < best) {
            best = worth;
            memcpy(c->b, b, sizeof b);
        }
    }
}

/* Normal scores: those that read alike share the middle of their ranks. */
static void score(struct curve *c, const double *x)
{
    for (size_t from = 0, to; from < c->n; from = to) {
        for (to = from + 1; to < c->n && !(x[to] > x[from]); to++)
            ;
        const double z = gsl_cdf_ugaussian_Pinv(0.5 * (double)(from + to) / (double)c->n);
        for (size_t i = from; i < to; i++) {
            double *t = &c->term[i * TERMS];
            t[0] = 1.0;
            t[1] = z;
            t[2] = (z * z - 1.0) / sqrt(2.0);
            t[3] = (z * z - 3.0) * z / sqrt(6.0);
        }
    }
}

enum hobble_status hb_quantile_by(const double *x, const double *y, size_t n, double worth,
                                  double p, double *quantile)
{
    struct curve c = {.n = n, .p = p, .share = worth / (double)n};
    c.term = calloc(n * TERMS, sizeof *c.term);
    c.ln = calloc(n, sizeof *c.ln);
    c.room = calloc(n, sizeof *c.room);
    const bool all = c.term && c.ln && c.room;
    if (all) {
        for (size_t i = 0; i < n; i++)
            c.ln[i] = log(y[i]);
        score(&c, x);
        choose(&c);
        for (size_t i = 0; i < n; i++)
            quantile[i] = exp(value_of(&c, i, c.b, TERMS));
    }
    free(c.term);
    free(c.ln);
    free(c.room);
    return all ? HOBBLE_OK : HOBBLE_E_MEMORY;
}
