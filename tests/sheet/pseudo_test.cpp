// The sheets and labels in the pseudo-language (core/words/language.h): whatever was not said through a Message shows,
// for it is not strange.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <set>

#include "core/sheet/labels.h"
#include "tests/sheet/samples.h"

namespace tapwright {
namespace {

using namespace samples;

void add_texts(const Value& value, std::set<std::string>& texts) {
    if (const std::string* text = value.text()) texts.insert(*text);
    if (const List* list = value.list())
        for (const Value& item : *list) add_texts(item, texts);
    if (const Map* map = value.map())
        for (const auto& [key, held] : *map) add_texts(held, texts);
}

// What people typed into a job, and the marks of the state that sheet_of() makes its sheets of; the longest first. A
// terminal may stand on two lines.
std::vector<std::string> typed_into(const Job& job) {
    std::set<std::string> texts = {"7f3a91c2", "0.1.0"};
    for (std::size_t i = 0; i < kind_count; ++i)
        with_record_type(kind_at(i), [&]<class R>() {
            for (const R& record : job.all<R>())
                for (const FieldInfo& field : fields(R::kind_of)) {
                    if (field.form != FieldForm::text && field.form != FieldForm::text_map) continue;
                    add_texts(job.get(R::kind_of, record.id, field), texts);
                }
        });
    for (const Zone& zone : job.all<Zone>())
        if (zone.terminal) {
            const std::size_t comma = zone.terminal->find(", ");
            texts.insert(zone.terminal->substr(0, comma));
            if (comma != std::string::npos) texts.insert(zone.terminal->substr(comma + 2));
        }
    std::vector<std::string> longest_first(texts.begin(), texts.end());
    std::stable_sort(longest_first.begin(), longest_first.end(),
                     [](const std::string& a, const std::string& b) { return a.size() > b.size(); });
    return longest_first;
}

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

// Every whole `part` of the text becomes a space.
void take_out(std::string& text, const std::string& part) {
    if (part.empty()) return;
    for (std::size_t at = 0; (at = text.find(part, at)) != std::string::npos;) {
        const bool goes_on =
            (at > 0 && is_letter(text[at - 1]) && is_letter(part.front())) ||
            (at + part.size() < text.size() && is_letter(text[at + part.size()]) && is_letter(part.back()));
        if (goes_on)
            ++at;
        else
            text.replace(at, part.size(), " ");
    }
}

constexpr std::array units = {"dB(A)", "kHz", "MΩ", "kΩ", "mm²", "AWG", "°C", "dB", "Hz", "mA", "W", "V", "Ω", "m"};

// The text without what the job holds and without units.
std::string ours(std::string text, const std::vector<std::string>& typed) {
    for (const std::string& part : typed) take_out(text, part);
    for (const char* const unit : units) take_out(text, unit);
    return text;
}

// What of it stands outside of all « and ».
std::string outside_of_messages(std::string_view text) {
    std::string left;
    int depth = 0;
    for (std::size_t at = 0; at < text.size(); ++at) {
        if (text.substr(at).starts_with("«")) {
            ++depth;
            ++at;
        } else if (text.substr(at).starts_with("»")) {
            --depth;
            ++at;
        } else if (depth == 0) {
            left += text[at];
        }
        REQUIRE(depth >= 0);
    }
    CHECK(depth == 0);
    return left;
}

// The first letter that the pseudo-language would have changed, with what stands around it; nothing where there is
// none. Consonants are replaced, a vowel stands behind its accented twin.
std::string plain_english_in(const std::string& text) {
    for (std::size_t at = 0; at < text.size(); ++at) {
        const bool is_plain = std::string_view("cnstrl").find(text[at]) != std::string_view::npos ||
                              (std::string_view("aeiouyAEIOUY").find(text[at]) != std::string_view::npos &&
                               (at == 0 || (static_cast<unsigned char>(text[at - 1]) & 0x80U) == 0));
        if (is_plain) return text.substr(at < 30 ? 0 : at - 30, 60);
    }
    return {};
}

// Texts in drawings may be cut with an ellipsis to the room there is, the » with it.
bool is_cut(const std::string& line) {
    return line.ends_with("…");
}

void check_strange(const document::Document& sheet, const Job& job) {
    CHECK(sheet.language == "en-x-pseudo");
    const std::vector<std::string> typed = typed_into(job);
    std::size_t lines = 0;
    for (const std::string& text : texts_of(sheet)) {
        ++lines;
        CAPTURE(text);
        const std::string own = ours(text, typed);
        CHECK(plain_english_in(own) == "");
        if (is_cut(text)) continue;
        const std::string left = outside_of_messages(own);
        CHECK_MESSAGE(std::none_of(left.begin(), left.end(), is_letter), left);
    }
    CHECK(lines > 100);
}

}  // namespace

TEST_CASE("in the pseudo-language nothing on either sheet is left but figures, units and what the job holds") {
    const Job job = demo_job();
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician})
        check_strange(sheet_of(job, reader, pseudo()), job);
}

TEST_CASE("in the pseudo-language nothing on the labels is left but figures, units and what the job holds") {
    const Job job = demo_job();
    check_strange(
        label_sheet(job, derive(job), {{50, 20}, document::Paper::a4, "2026-02-03T10:00:00Z", ""}, Words(pseudo())),
        job);
}

TEST_CASE("a word that did not come through a Message would be found") {
    CHECK(plain_english_in(ours("«ƒ» the line of 5 W", {})) != "");
    CHECK(plain_english_in(ours("«Lïiñée óof Foyer: 5 W»", {})) != "");
    CHECK(plain_english_in(ours("«Lïiñée óof Foyer: 5 W»", {"Foyer"})) == "");
    CHECK(outside_of_messages("«a «b» c» W") == " W");
}

}  // namespace tapwright
