/* SPDX-License-Identifier: GPL-3.0-or-later */
/* answer.cc - the question of answer.c from C++.
 *
 *   c++ answer.cc $(pkg-config --cflags --libs libhobble) -o answer
 *   ./answer TYRE.cfg VEHICLE.cfg */
#include <hobble.h>

#include <cmath>
#include <iomanip>
#include <iostream>
#include <memory>

namespace
{

struct Free {
    void operator()(hobble_case *c) const
    {
        hobble_case_free(c);
    }
};

int complain(const hobble_faults &faults, hobble_status status)
{
    for (std::size_t i = 0; i < faults.count && i < HOBBLE_FAULTS_KEPT; i++) {
        const hobble_fault &f = faults.item[i];
        std::cerr << f.file << ':' << f.line << ": " << f.key << ": "
                  << hobble_status_text(f.status) << "; given '" << f.given
                  << "'; allowed: " << f.allowed << '\n';
    }
    return hobble_status_exit(status);
}

} // namespace

int main(int argc, char **argv)
{
    if (argc != 3) {
        std::cerr << "usage: answer TYRE.cfg VEHICLE.cfg\n";
        return hobble_status_exit(HOBBLE_E_USAGE);
    }
    const std::unique_ptr<hobble_case, Free> question(hobble_case_new());
    const auto faults = std::make_unique<hobble_faults>();
    const auto answer = std::make_unique<hobble_answer>();
    if (!question)
        return complain(*faults, HOBBLE_E_MEMORY);
    hobble_status status = hobble_profile_read(argv[1], HOBBLE_TYRE, question.get(), faults.get());
    if (status == HOBBLE_OK)
        status = hobble_profile_read(argv[2], HOBBLE_VEHICLE, question.get(), faults.get());
    // what is not stated counts against the tyre
    static constexpr const char *said[][2] = {{"people", "2"},
                                              {"ambient", "35 C"},
                                              {"age", "2 years"},
                                              {"ran_flat", "no"},
                                              {"repaired", "no"}};
    for (const auto &say : said)
        if (status == HOBBLE_OK)
            status = hobble_case_set(question.get(), say[0], say[1], "answer.cc", faults.get());
    if (status == HOBBLE_OK)
        status = hobble_range(question.get(), 0, answer.get(), faults.get());
    if (status != HOBBLE_OK)
        return complain(*faults, status);
    if (answer->verdict == HOBBLE_STOP) {
        std::cout << "STOP\n";
        return 1;
    }
    // cut, never rounded up
    std::cout << "GO at most " << std::lround(answer->advised_speed * 3.6) << " km/h, at most "
              << std::fixed << std::setprecision(1)
              << std::floor(answer->advised_distance / 100.0) / 10.0 << " km\n";
    return 0;
}
