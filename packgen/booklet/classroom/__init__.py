"""The class edition: pupils' sheets without an answer, and the teacher's book."""
