namespace Derivid.Page.Observations;

/// <summary>What the colours of the vocabulary look like on a screen, roughly; the name beside it is what counts.</summary>
public static class Swatches
{
    /// <summary>A colour's look.</summary>
    /// <param name="key">Key of the colour.</param>
    /// <returns>As SVG has it. Missing: null, a colour without a look here.</returns>
    public static string? Of(string key) => key switch
    {
        "colourless" => "none",
        "white" => "#ffffff",
        "pale-yellow" => "#fbf3b4",
        "yellow" => "#f6d73c",
        "yellow-orange" => "#f5b62e",
        "orange" => "#f08c1f",
        "orange-red" => "#e25a22",
        "red" => "#c92a21",
        "dark-red" => "#7d1519",
        _ => null,
    };
}
