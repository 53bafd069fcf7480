using Derivid.Contracts;
using Derivid.Core.Melting;

namespace Derivid.Page.Practice;

/// <summary>Thermometers in words.</summary>
public static class ThermometerWords
{
    /// <summary>What can be chosen for what one is filled with: what is sent, and what is shown.</summary>
    public static IReadOnlyList<(string Value, string Text)> Liquids { get; } =
    [
        ("", Of(null)),
        .. Enum.GetValues<ThreadLiquid>().Select(liquid => (WireJson.Word(liquid), Of(liquid))),
    ];

    /// <summary>What one is filled with.</summary>
    /// <param name="liquid">The liquid. Missing: null, it is electronic.</param>
    public static string Of(ThreadLiquid? liquid) => liquid is not { } filled ? "nothing, it is electronic" : filled switch
    {
        ThreadLiquid.Mercury => "mercury",
        ThreadLiquid.Alcohol => "alcohol, toluene or pentane",
        ThreadLiquid.Petroleum => "petroleum (most red and blue threads)",
        ThreadLiquid.Gallium => "gallium alloy (silvery, no mercury)",
    };
}
