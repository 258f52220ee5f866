/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study/shapley.h"

#include "advice/reweigh.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = HOBBLE_INDICES_MAX, ROWS_A_TERM = 5, ORDERS = 500 };
#define SEED  20
#define ALIKE 1e-12 /* of a variance: an input that the others tell */

/* A polynomial of centred inputs: by'x + x'Sx, and their covariance. */
struct form {
    int d;
    double mean[MOST], covariance[MOST][MOST];
    double by[MOST], square[MOST][MOST];
    double worth;     /* independent rows */
    double explained; /* of y's variance */
};

/* ---- least squares --------------------------------------------------------------------------- */

enum degree { LINEAR, SQUARES, PRODUCTS };

static size_t terms_of(int d, enum degree degree)
{
    const size_t n = (size_t)d;
    return 1 + n + (degree >= SQUARES ? n : 0) + (degree >= PRODUCTS ? n * (n - 1) / 2 : 0);
}

static void write_terms(const struct form *f, const double *x, enum degree degree, double *term)
{
    double c[MOST];
    *term++ = 1.0;
    for (int i = 0; i < f->d; i++)
        *term++ = c[i] = x[i] - f->mean[i];
    for (int i = 0; i < f->d && degree >= SQUARES; i++)
        *term++ = c[i] * c[i] - f->covariance[i][i];
    for (int i = 0; i < f->d && degree >= PRODUCTS; i++)
        for (int k = 0; k < i; k++)
            *term++ = c[i] * c[k] - f->covariance[i][k];
}

static void read_terms(const double *b, enum degree degree, struct form *f)
{
    b++;
    for (int i = 0; i < f->d; i++)
        f->by[i] = *b++;
    for (int i = 0; i < f->d && degree >= SQUARES; i++)
        f->square[i][i] = *b++;
    for (int i = 0; i < f->d && degree >= PRODUCTS; i++)
        for (int k = 0; k < i; k++)
            f->square[i][k] = f->square[k][i] = 0.5 * *b++;
}

static void take_moments(const double *x, size_t n, struct form *f)
{
    const size_t d = (size_t)f->d;
    for (size_t r = 0; r < n; r++)
        for (size_t i = 0; i < d; i++)
            f->mean[i] += x[r * d + i] / (double)n;
    for (size_t r = 0; r < n; r++)
        for (size_t i = 0; i < d; i++)
            for (size_t k = 0; k < d; k++)
                f->covariance[i][k] +=
                    (x[r * d + i] - f->mean[i]) * (x[r * d + k] - f->mean[k]) / (double)n;
}

/* Normal equations: the terms are all but square to each other, as inputs are near to normal. */
static bool solve(gsl_matrix *term, const gsl_vector *y, gsl_matrix *a, gsl_vector *b)
{
    gsl_blas_dsyrk(CblasLower, CblasTrans, 1.0, term, 0.0, a);
    gsl_blas_dgemv(CblasTrans, 1.0, term, y, 0.0, b);
    return gsl_linalg_cholesky_decomp1(a) == 0 && gsl_linalg_cholesky_svx(a, b) == 0;
}

static double squares_of(const gsl_vector *v)
{
    const double length = gsl_blas_dnrm2(v);
    return length * length;
}

/* missed: y less its mean, and then less the polynomial. */
static bool fit(gsl_matrix *term, gsl_vector *missed, gsl_matrix *a, gsl_vector *b, struct form *f)
{
    const double all = squares_of(missed);
    if (!(all > 0.0) || !solve(term, missed, a, b))
        return false;
    gsl_blas_dgemv(CblasNoTrans, -1.0, term, b, 1.0, missed);
    const double free = (f->worth - 1.0) / (f->worth - (double)term->size2);
    f->explained = fmax(1.0 - squares_of(missed) / all * free, 0.0);
    return true;
}

static enum hobble_status fit_form(const double *x, const double *y, size_t n, enum degree degree,
                                   struct form *f)
{
    const size_t terms = terms_of(f->d, degree);
    gsl_matrix *term = gsl_matrix_alloc(n, terms), *a = gsl_matrix_alloc(terms, terms);
    gsl_vector *b = gsl_vector_alloc(terms), *missed = gsl_vector_alloc(n);
    const bool room = term && a && b && missed;
    double mean = 0.0;
    f->explained = (double)NAN;
    for (size_t r = 0; r < n && room; r++) {
        mean += (y[r] - y[0]) / (double)n; /* from one, so that no variance is none at all */
        write_terms(f, &x[r * (size_t)f->d], degree, gsl_matrix_ptr(term, r, 0));
    }
    for (size_t r = 0; r < n && room; r++)
        gsl_vector_set(missed, r, y[r] - y[0] - mean);
    if (room && fit(term, missed, a, b, f))
        read_terms(b->data, degree, f);
    gsl_matrix_free(term);
    gsl_matrix_free(a);
    gsl_vector_free(b);
    gsl_vector_free(missed);
    return room ? HOBBLE_OK : HOBBLE_E_MEMORY;
}

/* ---- shares ---------------------------------------------------------------------------------- */

/* Covariance of what is expected of the inputs when some of them are known. */
struct known {
    double p[MOST][MOST];
};

/* What input j adds to the variance of what is expected of y, as it becomes known. With p the
 * covariance above that is by'p by + 2 tr(S p S p); p grows by the square of one vector. */
static double add_known(const struct form *f, int j, struct known *k)
{
    double u[MOST], w[MOST], line = 0.0, square = 0.0, cross = 0.0;
    const double own = f->covariance[j][j] - k->p[j][j];
    if (own <= ALIKE * f->covariance[j][j])
        return 0.0;
    for (int i = 0; i < f->d; i++)
        u[i] = (f->covariance[i][j] - k->p[i][j]) / sqrt(own);
    for (int i = 0; i < f->d; i++) {
        w[i] = 0.0;
        for (int m = 0; m < f->d; m++)
            w[i] += f->square[i][m] * u[m];
        line += f->by[i] * u[i];
        square += u[i] * w[i];
    }
    for (int i = 0; i < f->d; i++)
        for (int m = 0; m < f->d; m++)
            cross += w[i] * k->p[i][m] * w[m];
    for (int i = 0; i < f->d; i++)
        for (int m = 0; m < f->d; m++)
            k->p[i][m] += u[i] * u[m];
    return line * line + 4.0 * cross + 2.0 * square * square;
}

/* A random order (Fisher and Yates), then its reverse, by which products are halved exactly. */
static void add_order(const struct form *f, int *order, struct hb_dice *dice, double *share)
{
    for (int i = f->d - 1; i > 0; i--) {
        const int at = (int)(hb_dice_even(dice) * (i + 1)), moved = order[at];
        order[at] = order[i];
        order[i] = moved;
    }
    for (int way = 0; way < 2; way++) {
        struct known k = {0};
        for (int i = 0; i < f->d; i++) {
            const int j = order[way == 0 ? i : f->d - 1 - i];
            share[j] += add_known(f, j, &k);
        }
    }
}

static void share_out(const struct form *f, double *share)
{
    struct hb_dice dice = hb_dice_begin(SEED, 0);
    int order[MOST];
    double sum = 0.0;
    for (int i = 0; i < f->d; i++) {
        order[i] = i;
        share[i] = 0.0;
    }
    for (int i = 0; i < ORDERS; i++)
        add_order(f, order, &dice, share);
    for (int i = 0; i < f->d; i++)
        sum += share[i];
    for (int i = 0; i < f->d; i++)
        share[i] *= f->explained / sum;
}

enum hobble_status hb_shapley(const double *x, const double *y, size_t n, double worth,
                              int dimensions, double *share, double *explained)
{
    struct form f = {.d = dimensions, .worth = worth};
    int degree = PRODUCTS;
    enum hobble_status status = HOBBLE_OK;
    *explained = (double)NAN;
    for (int i = 0; i < dimensions; i++)
        share[i] = (double)NAN;
    while (degree >= LINEAR &&
           worth < ROWS_A_TERM * (double)terms_of(dimensions, (enum degree)degree))
        degree--;
    if (degree < LINEAR)
        return HOBBLE_OK;
    take_moments(x, n, &f);
    status = fit_form(x, y, n, (enum degree)degree, &f);
    if (status == HOBBLE_OK && f.explained > 0.0) { /* false for NAN */
        *explained = f.explained;
        share_out(&f, share);
    }
    return status;
}
