// Compiled translations: what is found in them, and that no damage to one is ever worse than a refusal.
#include "core/words/catalogue.h"

#include <doctest/doctest.h>

#include <random>
#include <string>

#include "tests/words/test_languages.h"

using namespace tapwright;

TEST_CASE("translations are found by pattern and context") {
    const Catalogue catalogue = Catalogue::from(test_mo("xx")).value();
    CHECK(catalogue.find("", "Apr") == "dubu");
    CHECK(catalogue.find("snag", "open") == "otevřen");
    CHECK(catalogue.find("circuit", "open") == "rozpojen");
    CHECK(catalogue.find("", "open").empty());
    CHECK(catalogue.find("snag", "shut").empty());
    CHECK(catalogue.find("", "Nothing is translated here but this: {zone}.").empty());
}

TEST_CASE("plural forms are found by count") {
    const Catalogue slavic = Catalogue::from(test_mo("xx")).value();
    CHECK(slavic.find_plural("", "{count} loudspeaker", 21) == "{count} hlas");
    CHECK(slavic.find_plural("", "{count} loudspeaker", 3) == "{count} hlasa");
    CHECK(slavic.find_plural("", "{count} loudspeaker", 11) == "{count} hlasů");
    CHECK(slavic.find_plural("", "{count} lamp", 11).empty());
    const Catalogue one_form = Catalogue::from(test_mo("yy")).value();
    for (const int count : {0, 1, 2, 11}) CHECK(one_form.find_plural("", "{count} loudspeaker", count) == "{count} ko");
}

namespace {

void flip_bit(std::string& bytes, std::size_t at, std::size_t bit) {
    bytes[at] = static_cast<char>(static_cast<unsigned char>(bytes[at]) ^ (1u << bit));
}

// Asks for what is there and for what is not; only a crash or a read outside the bytes would be wrong.
std::size_t use(const std::string& bytes) {
    const Result<Catalogue> catalogue = Catalogue::from(bytes);
    if (!catalogue) return 0;
    std::size_t found = 1;
    for (const char* context : {"", "snag", "circuit", "Purpose"})
        for (const char* message : {"", "open", "Apr", "first fix", "{count} loudspeaker", "not there"}) {
            found += catalogue->find(context, message).size();
            for (const std::uint64_t count : {0, 1, 2, 5, 1'000'000})
                found += catalogue->find_plural(context, message, count).size();
        }
    return found;
}

}  // namespace

TEST_CASE("a damaged catalogue is refused, or read within its bounds") {
    const std::string whole(test_mo("xx"));
    REQUIRE(use(whole) > 1);
    for (std::size_t size = 0; size < whole.size(); ++size) CHECK(use(whole.substr(0, size)) == 0);
    std::mt19937 random(11);
    std::size_t refused = 0;
    for (int round = 0; round < 2000; ++round) {
        std::string bytes = whole;
        for (auto left = 1 + random() % 4; left > 0; --left)
            // Half of the damage in the header and the tables, where it hurts.
            flip_bit(bytes, random() % (round % 2 ? std::size_t{200} : bytes.size()), random() % 8);
        if (random() % 4 == 0) bytes.resize(random() % bytes.size());
        refused += use(bytes) == 0;
    }
    CHECK(refused > 300);
    CHECK(use(std::string()) == 0);
    CHECK(use("GIF89a") == 0);
}
