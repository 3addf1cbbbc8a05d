#include "core/job/field_table.h"

#include "core/job/field_codec.h"

namespace tapwright {
namespace {

// ---- the rules fields.def speaks in ----
constexpr Rule optional_text{};
constexpr Rule optional_choice{};
constexpr Rule required = [] {
    Rule rule;
    rule.is_required = true;
    return rule;
}();
constexpr Rule notes = Rule{}.chars(20000);
// Ratings, limits and taps: from 1 mW, for the lowest taps made are tens of milliwatts, to a megawatt, which no line
// carries a hundredth of.
constexpr Rule limit_watts = Rule{}.from(codec::least_watts).to(1e6);
// Of an output, a loudspeaker or a pad: 0.1 ohm is a short, and no transformer has a megohm.
constexpr Rule load_ohms = Rule{}.from(0.1).to(1e6);
// Steps and positions: 0 is straight through, and no control is made in hundredths of a decibel.
constexpr Rule step_decibels = Rule{}.to(0).or_zero(0.01);
constexpr Rule refers_any = Rule{}.refers(KindSet::any());
constexpr Rule from(double x) {
    return Rule{}.from(x);
}
constexpr Rule chars(std::size_t n) {
    return Rule{}.chars(n);
}
constexpr Rule one_of(std::initializer_list<int> values) {
    return Rule{}.one_of(values);
}
constexpr Rule refers(KindSet kinds) {
    return Rule{}.refers(kinds);
}
constexpr Rule otherwise(std::string_view value) {
    return Rule{}.otherwise(value);
}
template <std::size_t size>
constexpr Rule inherited(const char (&words)[size]) {
    return Rule{}.inherited(words);
}

template <class T>
constexpr FieldInfo describe(std::string_view name, Rule rule, Pattern title, Pattern help) {
    const std::string_view unit = rule.unit.empty() ? codec::Codec<T>::unit : rule.unit;
    return {name,
            codec::Codec<T>::form,
            unit,
            codec::Codec<T>::range(rule),
            codec::words_of<T>(),
            codec::list_of<T>(),
            title,
            help};
}

template <class R, class T, std::optional<T> R::*member>
Value get_member(const R& record) {
    if (const auto& held = record.*member) return codec::Codec<T>::write(*held);
    return {};
}

template <class R, class T, std::optional<T> R::*member>
Result<void> set_member(R& record, const Value& value, const FieldInfo& info) {
    if (value.is_null()) {
        (record.*member).reset();
        return done();
    }
    Result<T> read = codec::Codec<T>::read(info, value);
    if (!read) return read.refusal();
    record.*member = std::move(read).value();
    return done();
}

template <class R, class T, std::optional<T> R::*member>
void member_references(const R& record, const std::function<void(const Id&)>& with) {
    if (const auto& held = record.*member) codec::each_reference(*held, with);
}

template <class R>
struct TableOf;

#define TAPWRIGHT_KIND(Type, singular, plural, title, titles, help) \
    template <>                                                     \
    struct TableOf<Type> {                                          \
        using R = Type;                                             \
        static constexpr auto make() {                              \
            return std::array {
#define TAPWRIGHT_FIELD(member, T, rule, title, help)                                                               \
    FieldOf<R>{describe<T>(#member, rule, title, help), get_member<R, T, &R::member>, set_member<R, T, &R::member>, \
               member_references<R, T, &R::member>},
#define TAPWRIGHT_END \
    }                 \
    ;                 \
    }                 \
    }                 \
    ;
#include "core/job/fields.def"

template <class R>
const auto& table_of() {
    static constexpr auto table = TableOf<R>::make();
    return table;
}

template <class R>
std::span<const FieldInfo> infos_of() {
    static const auto infos = [] {
        std::vector<FieldInfo> list;
        for (const FieldOf<R>& field : table_of<R>()) list.push_back(field.info);
        return list;
    }();
    return infos;
}

struct KindWords {
    std::string_view singular;
    std::string_view plural;
    Pattern title;
    Pattern titles;
    Pattern help;
};
constexpr std::array<KindWords, kind_count> kind_words{{
#define TAPWRIGHT_KIND(Type, singular, plural, title, titles, help) {#singular, #plural, title, titles, help},
#define TAPWRIGHT_FIELD(member, Type, rule, title, help)
#define TAPWRIGHT_END
#include "core/job/fields.def"
}};

}  // namespace

template <class R>
std::span<const FieldOf<R>> field_table() {
    return table_of<R>();
}
#define TAPWRIGHT_KIND(Type, singular, plural, title, titles, help) \
    template std::span<const FieldOf<Type>> field_table<Type>();
#define TAPWRIGHT_FIELD(member, Type, rule, title, help)
#define TAPWRIGHT_END
#include "core/job/fields.def"

std::string_view singular(Kind kind) {
    return kind_words[number_of(kind)].singular;
}
std::string_view plural(Kind kind) {
    return kind_words[number_of(kind)].plural;
}
Message title_of(Kind kind) {
    return kind_words[number_of(kind)].title;
}
Message titles_of(Kind kind) {
    return kind_words[number_of(kind)].titles;
}
Message help_of(Kind kind) {
    return kind_words[number_of(kind)].help;
}
std::string_view help(Kind kind) {
    return kind_words[number_of(kind)].help.text;
}

std::optional<Kind> kind_from_singular(std::string_view text) {
    for (std::size_t i = 0; i < kind_count; ++i)
        if (kind_words[i].singular == text) return kind_at(i);
    return std::nullopt;
}

std::optional<Kind> kind_from_plural(std::string_view text) {
    for (std::size_t i = 0; i < kind_count; ++i)
        if (kind_words[i].plural == text) return kind_at(i);
    return std::nullopt;
}

std::span<const FieldInfo> fields(Kind kind) {
    return with_record_type(kind, []<class R>() { return infos_of<R>(); });
}

const FieldInfo* find_field(Kind kind, std::string_view name) {
    for (const FieldInfo& field : fields(kind))
        if (field.name == name) return &field;
    return nullptr;
}

namespace {

// std::less, for < between pointers into different arrays means nothing.
bool is_in(std::span<const FieldInfo> infos, const FieldInfo* field) {
    const std::less<const FieldInfo*> before;
    return !before(field, infos.data()) && before(field, infos.data() + infos.size());
}

}  // namespace

Result<void> check_form(const FieldInfo& field, const Value& value) {
    for (std::size_t i = 0; i < kind_count; ++i) {
        const std::span<const FieldInfo> infos = fields(kind_at(i));
        if (!is_in(infos, &field)) continue;
        return with_record_type(kind_at(i), [&]<class R>() -> Result<void> {
            R scratch{};
            return field_table<R>()[static_cast<std::size_t>(&field - infos.data())].set(scratch, value, field);
        });
    }
    TAPWRIGHT_ENSURE(!"a field that is not in the table");
}

}  // namespace tapwright
