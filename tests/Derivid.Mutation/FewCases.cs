using System.Runtime.CompilerServices;
using CsCheck;

namespace Derivid.Mutation;

/// <summary>Every mutant is met by all tests that reach it, so a property is tried on a tenth of its usual cases.</summary>
internal static class FewCases
{
    [ModuleInitializer]
    internal static void Ask() => (Check.Iter, Check.Threads) = (10, 1);
}
