namespace Derivid.Validation.Advice;

/// <summary>How the next step is chosen.</summary>
public enum StepOrder
{
    /// <summary>The first of the service's own next steps.</summary>
    Service,

    /// <summary>Semicarbazone, oxime, 4-nitrophenylhydrazone, phenylhydrazone, the tests, the boiling point.</summary>
    Fixed,

    /// <summary>Boiling point, Tollens, iodoform and permanganate tests, then as fixed: the order of many courses.</summary>
    Course,

    /// <summary>Any step at random.</summary>
    Random,
}
