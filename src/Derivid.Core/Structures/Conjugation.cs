namespace Derivid.Core.Structures;

/// <summary>Follows the C=C and aryl units that are conjugated with a carbonyl group.</summary>
/// <remarks>From carbon to carbon through C=C; an aryl is counted and ends the way, as does another C=O.</remarks>
internal static class Conjugation
{
    public static bool IsExtended(StructureView view, int carbonyl)
    {
        int alkeneCarbons = 0;
        bool aryl = false;
        var seen = new HashSet<int> { carbonyl };
        var open = new Queue<int>(seen);
        while (open.TryDequeue(out int atom))
        {
            foreach (int next in view.Carbons(atom).Where(seen.Add))
            {
                if (view.IsAryl(next))
                {
                    aryl = true;
                }
                else if (view.IsAlkene(next) && !view.IsCarbonyl(next))
                {
                    alkeneCarbons++;
                    open.Enqueue(next);
                }
            }
        }

        // Each C=C has two of its carbons on the way, and the three of C=C=C are two of them.
        int alkenes = (alkeneCarbons + 1) / 2;
        return alkenes >= 2 || (alkenes == 1 && aryl);
    }
}
