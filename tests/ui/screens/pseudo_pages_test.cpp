// Every page and sheet in the pseudo-language: whole though every word is longer, and no text goes around the messages.
#include <doctest/doctest.h>

#include <set>

#include "core/words/words.h"
#include "tests/ui/screens/desk.h"
#include "tests/ui/screens/pages.h"
#include "ui/screens/common/parts.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

// The runs of letters in a text; what is not ASCII counts as letters, but for quotation marks and the minus sign.
std::vector<std::string> words_in(std::string text) {
    for (const std::string_view mark : {"«", "»", "“", "”", "−", "±", "…"})
        for (std::size_t at = text.find(mark); at != std::string::npos; at = text.find(mark, at))
            text.replace(at, mark.size(), " ");
    std::vector<std::string> words;
    std::string word;
    for (const char each : text) {
        const bool is_letter = (each >= 'a' && each <= 'z') || (each >= 'A' && each <= 'Z') || (each & 0x80) != 0;
        if (is_letter) word += each;
        if (is_letter || word.empty()) continue;
        words.push_back(std::move(word));
        word.clear();
    }
    if (!word.empty()) words.push_back(word);
    return words;
}

void add_words(std::set<std::string>& all, const Value& value) {
    if (value.text())
        for (std::string& word : words_in(*value.text())) all.insert(std::move(word));
    if (value.list())
        for (const Value& each : *value.list()) add_words(all, each);
    if (value.map())
        for (const auto& [key, each] : *value.map()) add_words(all, each);
}

// Every word that people have entered, and what machines read.
std::set<std::string> entered_words(const Job& job) {
    std::set<std::string> all = {"Tapwright", "Ada", "Quill", "JPEG", "PNG", "sheet", "English", "html"};
    for (std::size_t number = 0; number < kind_count; ++number)
        with_record_type(kind_at(number), [&]<class R>() {
            for (const R& record : job.all<R>())
                for (const FieldInfo& field : fields(R::kind_of))
                    if (field.choices.empty()) add_words(all, job.get(R::kind_of, record.id, field));
        });
    for (const FieldInfo& field : fields(Kind::job)) add_words(all, job.get(Kind::job, job_id(), field));
    return all;
}

// The same of a desk's job, with what machines read of the state it is in.
std::set<std::string> entered_words(const Desk& desk) {
    std::set<std::string> all = entered_words(desk.job());
    for (std::string& word : words_in(code_of_state(desk.session->state()))) all.insert(std::move(word));
    return all;
}

// Whether people entered it; a word may have been cut short.
bool is_entered(const std::string& word, const std::set<std::string>& entered) {
    const auto found = entered.lower_bound(word);
    constexpr std::size_t enough = 3;
    return found != entered.end() && (*found == word || (word.size() >= enough && found->starts_with(word)));
}

// English that did not come through a Message: the pseudo-language has other letters for c, l, n, r, s and t.
std::vector<std::string> english_in(const ui::Marks& marks, const std::set<std::string>& entered) {
    std::set<std::string> faults;
    const auto look = [&](const std::string& text) {
        for (const std::string& word : words_in(text))
            if (word.find_first_of("clnrst") != std::string::npos && !is_entered(word, entered))
                faults.insert("\"" + word + "\" in: " + text);
    };
    for (const ui::TextPiece& piece : marks.texts()) look(piece.full);
    for (const ui::Mark& mark : marks.all()) look(mark.text);
    return {faults.begin(), faults.end()};
}

// What is wrong with the page in sight, from top to bottom, English that went around the messages included.
std::vector<std::string> faults_in_pseudo(Desk& desk, const std::set<std::string>& entered) {
    std::vector<std::string> faults = english_in(desk.person->toolkit->marks(), entered);
    for (std::string& fault : desk.faults_down_the_page()) faults.push_back(std::move(fault));
    for (std::string& fault : english_in(desk.person->toolkit->marks(), entered)) faults.push_back(std::move(fault));
    return faults;
}

void read_in_pseudo(Desk& desk) {
    desk.person->toolkit->preferences.language = &pseudo();
    desk.person->frames(2);
}

constexpr Screen pseudo_screens[] = {
    {.width = 320, .height = 640}, {.width = 390, .height = 844, .scale = 2}, {.width = 1280, .height = 800}};

std::string screen_name(const Screen& screen) {
    return std::to_string(static_cast<int>(screen.width)) + "x" + std::to_string(static_cast<int>(screen.height));
}

}  // namespace

TEST_CASE("in the pseudo-language every page is whole, and no text goes around the messages") {
    for (const Screen& screen : pseudo_screens)
        for (const PageCase& page : pages()) {
            Desk desk(Start::demo, screen, page.place);
            read_in_pseudo(desk);
            page.go(desk);
            const std::vector<std::string> faults = faults_in_pseudo(desk, entered_words(desk));
            CHECK_MESSAGE(faults.empty(), std::string(page.name), " at ", screen_name(screen), in_lines(faults));
        }
}

TEST_CASE("in the pseudo-language every kind of record has a whole page and a whole list") {
    for (const Screen& screen : pseudo_screens)
        for (std::size_t number = 0; number < kind_count; ++number) {
            const Kind kind = kind_at(number);
            Desk desk(Start::demo, screen, PlaceId::survey);
            read_in_pseudo(desk);
            const std::set<std::string> entered = entered_words(desk.job());
            const auto check = [&](std::unique_ptr<ui::Screen> page, std::string_view name) {
                desk.open(std::move(page));
                const std::vector<std::string> faults = faults_in_pseudo(desk, entered);
                CHECK_MESSAGE(faults.empty(), std::string(name), " at ", screen_name(screen), in_lines(faults));
            };
            if (kind != Kind::job) check(ui::records_screen(desk.shared, kind), plural(kind));
            Id first;
            with_record_type(kind, [&]<class R>() {
                if (!desk.job().all<R>().empty()) first = desk.job().all<R>().front().id;
            });
            if (first != Id()) check(ui::record_screen(desk.shared, kind, first), singular(kind));
        }
}

TEST_CASE("in the pseudo-language an empty job and the opening page are whole") {
    for (const Screen& screen : pseudo_screens) {
        for (int place = 0; place < ui::place_count; ++place) {
            Desk desk(Start::empty_job, screen, static_cast<PlaceId>(place));
            read_in_pseudo(desk);
            const std::vector<std::string> faults = faults_in_pseudo(desk, entered_words(desk.job()));
            CHECK_MESSAGE(faults.empty(), "place ", place, " at ", screen_name(screen), in_lines(faults));
        }
        Desk desk(Start::nothing, screen);
        read_in_pseudo(desk);
        const std::vector<std::string> faults = faults_in_pseudo(desk, {"Tapwright", "Ada", "Quill"});
        CHECK_MESSAGE(faults.empty(), "the opening page at ", screen_name(screen), in_lines(faults));
    }
}
