// Every key of every closed list has words for people.
#include "core/words/choices.h"

#include <doctest/doctest.h>

#include <set>
#include <string>

#include "core/calc/figures.h"
#include "core/findings/findings.h"
#include "core/job/field_table.h"
#include "core/readings/judgement.h"
#include "core/words/words.h"

using namespace tapwright;

namespace {

void check_words(const Choice& choice) {
    const std::string name = std::string(choice.list) + " " + std::string(choice.key);
    REQUIRE_MESSAGE(has_words(choice), name);
    const std::string text = in_english(words_of(choice));
    CHECK_FALSE(text.empty());
    CHECK_MESSAGE(text.find('_') == std::string::npos, name);
    CHECK(in_english(Message(choice)) == text);
}

}  // namespace

TEST_CASE("every choice a field may hold has words") {
    std::set<std::string_view> lists;
    for (std::size_t i = 0; i < kind_count; ++i)
        for (const FieldInfo& field : fields(kind_at(i))) {
            CHECK((field.form == FieldForm::choice) == !field.choice_list.empty());
            for (const std::string_view key : field.choices) check_words({field.choice_list, key});
            if (!field.choice_list.empty()) lists.insert(field.choice_list);
        }
    CHECK(lists.size() >= 20);
    for (const std::string_view key : ChoiceWords<ChangeOp>::words) check_words({ChoiceWords<ChangeOp>::list, key});
}

TEST_CASE("verdicts, limits, severities and what a load rests on have words") {
    for (const Verdict verdict : {Verdict::not_judged, Verdict::open, Verdict::shorted, Verdict::more_load,
                                  Verdict::less_load, Verdict::drifted, Verdict::agrees})
        check_words({"Verdict", word(verdict)});
    for (const LimitState state : {LimitState::ok, LimitState::warn, LimitState::stop})
        check_words({"LimitState", word(state)});
    for (const Severity severity : {Severity::stop, Severity::warn, Severity::note})
        check_words({"Severity", word(severity)});
    for (const std::string_view basis : {"as_built", "planned", "at_least"}) check_words({"Basis", basis});
}

TEST_CASE("a key that no list has, has no words") {
    CHECK_FALSE(has_words({"Purpose", "holiday"}));
    CHECK_FALSE(has_words({"Nothing", "first_fix"}));
    CHECK(in_english(words_of({"Purpose", "first_fix"})) == "first fix");
    CHECK(in_english(words_of({"Verdict", "agrees"})) == "matches the record");
}

TEST_CASE("a choice alone in a row has its titled form") {
    const Choice tiles{"Ceiling", "tile"};
    CHECK(in_english(Message("Under {ceiling}", {{"ceiling", tiles}})) == "Under tiles");
    CHECK(in_english(as_title(tiles)) == "Tiles");
    CHECK(in_english(as_title(Message("Under {ceiling}", {{"ceiling", tiles}}))) == "Under tiles");
    CHECK(in_english(as_title(Choice{"AttenuatorBuild", "l_pad"})) == "L-pad");
}
