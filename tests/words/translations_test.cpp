// Each translation fills the places of what it translates, and no others: msgfmt does not look at them, and a place
// without its argument would end the program.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

struct Entry {
    std::string original;  // msgid, and behind it msgid_plural
    std::vector<std::string> translations;
};

// What stands between the quotes of a line of a .po.
std::string between_quotes(const std::string& line) {
    std::string text;
    for (std::size_t i = line.find('"') + 1; i < line.size() && line[i] != '"'; ++i) {
        if (line[i] == '\\' && i + 1 < line.size()) ++i;
        text += line[i];
    }
    return text;
}

std::vector<Entry> entries_of(std::istream& po) {
    std::vector<Entry> entries;
    std::string* current = nullptr;
    std::string context;
    for (std::string line; std::getline(po, line);) {
        if (line.starts_with("#") || line.find('"') == std::string::npos) continue;
        if (line.starts_with("msgctxt ")) {
            current = &(context = "");
        } else if (line.starts_with("msgid ")) {
            current = &entries.emplace_back().original;
        } else if (line.starts_with("msgid_plural ")) {
            current = &entries.back().original;
        } else if (line.starts_with("msgstr")) {
            current = &entries.back().translations.emplace_back();
        }
        if (current) *current += between_quotes(line);
    }
    return entries;
}

std::set<std::string> places_in(const std::string& text) {
    std::set<std::string> places;
    for (std::size_t open = text.find('{'); open != std::string::npos; open = text.find('{', open + 1))
        places.insert(text.substr(open, text.find('}', open) - open + 1));
    return places;
}

// A translation that leaves out a place, or has one that is not there; of a plural, {count} may be left out.
std::vector<std::string> wrong_places(std::istream& po) {
    std::vector<std::string> wrong;
    for (const Entry& entry : entries_of(po)) {
        if (entry.original.empty()) continue;
        std::set<std::string> wanted = places_in(entry.original);
        wanted.erase("{count}");
        for (const std::string& translation : entry.translations) {
            if (translation.empty()) continue;
            std::set<std::string> given = places_in(translation);
            const bool has_count = given.erase("{count}") > 0;
            if (given != wanted || (has_count && !places_in(entry.original).contains("{count}")))
                wrong.push_back(translation);
        }
    }
    return wrong;
}

std::vector<std::string> wrong_in(const std::string& po) {
    std::istringstream stream(po);
    return wrong_places(stream);
}

}  // namespace

TEST_CASE("a translation without a place, or with one of its own, is found") {
    CHECK(wrong_in("msgid \"{a} of {b}\"\nmsgstr \"{b}: {a}\"\n").empty());
    CHECK(wrong_in("msgid \"{a} of \"\n\"{b}\"\nmsgstr \"\"\n\"{b}: \"\n\"{a}\"\n").empty());
    CHECK(wrong_in("msgid \"{a}\"\nmsgstr \"\"\n").empty());
    CHECK(wrong_in("msgid \"one lamp\"\nmsgid_plural \"{count} lamps\"\nmsgstr[0] \"x\"\nmsgstr[1] \"{count} x\"\n")
              .empty());
    CHECK(wrong_in("msgid \"{a} of {b}\"\nmsgstr \"{a}\"\n") == std::vector<std::string>{"{a}"});
    CHECK(wrong_in("msgid \"{a}\"\nmsgstr \"{a} {c}\"\n").size() == 1);
    CHECK(wrong_in("msgid \"{a}\"\nmsgstr \"{count} {a}\"\n").size() == 1);
    CHECK(wrong_in("msgctxt \"x\"\nmsgid \"a\"\nmsgstr \"{x}\"\n").size() == 1);
}

TEST_CASE("the program's translations fill the places they have") {
    for (const char* folder : {"core/words/languages", "tests/words/languages"}) {
        const fs::path path = fs::path(TAPWRIGHT_SOURCE_DIR) / folder;
        if (!fs::exists(path)) continue;
        for (const auto& entry : fs::directory_iterator(path)) {
            if (entry.path().extension() != ".po") continue;
            std::ifstream po(entry.path());
            for (const std::string& wrong : wrong_places(po))
                FAIL_CHECK(entry.path().filename().string() << ": \"" << wrong << "\"");
        }
    }
}
