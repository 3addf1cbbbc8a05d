// For builds with the address sanitizer: cairo 1.16 loses some hundred bytes of its own for each sheet when it writes
// the outlines of certain fonts. Ours are still counted: suppressed is only what cairo itself allocated.
// NOLINTBEGIN(bugprone-reserved-identifier): the name that the sanitizer asks for
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() {
    return "leak:libcairo.so\n";
}
// NOLINTEND(bugprone-reserved-identifier)
