namespace Derivid.Core.Structures;

/// <summary>Steps over the configuration of a bracket atom, which neither formula nor features depend on.</summary>
internal static class Configuration
{
    private static readonly (string Name, int Highest)[] Classes =
        [("TH", 2), ("AL", 2), ("SP", 3), ("TB", 20), ("OH", 30)];

    /// <summary>Stops where the configuration is not one of the notation's, so that the caller reports it.</summary>
    public static void Skip(ref SmilesPart rest)
    {
        if (!rest.Take('@') || rest.Take('@'))
        {
            return;
        }

        foreach ((string name, int highest) in Classes)
        {
            SmilesPart after = rest;
            if (after.Take(name) && after.Number(2) is int number && number >= 1 && number <= highest)
            {
                rest = after;
                return;
            }
        }
    }
}
